package server_test

import (
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"waterstrike/server/account"
	"waterstrike/ui/say"

	"github.com/chromedp/chromedp"
)

// TestPeopleInABrowser goes the way of people by keyboard, then looks at each screen in
// each language on a phone and on a desk.
func TestPeopleInABrowser(t *testing.T) {
	t.Parallel()
	h := housed(t)
	h.joins(t, "Wilhelmina Featherstonehaugh-Cholmondeley of Lower Xyz", account.Field)
	link := h.share(t, h.signedIn(t, "Ana Keeper"), url.Values{"days": {"30"}, "label": {strings.Repeat("donor ", 10)}, "blur": {"yes"}})
	served := httptest.NewServer(h.Handler())
	t.Cleanup(served.Close)
	ctx := browser(t)
	messages := chromedp.Console(ctx)
	do(t, ctx, "size", chromedp.EmulateViewport(360, 740))
	do(t, ctx, "refused", chromedp.Navigate(served.URL+"/shares?lang=en"), chromedp.WaitVisible("#name"))
	v := visit{ctx, served.URL, say.EN, 360, h.Catalogue}
	v.looks(t, "sign in")

	// Name, Tab, password, Tab, the button that shows it, Enter: all without a pointer.
	do(t, ctx, "name", chromedp.KeyEvent("ana keeper\t"+goodPassword+"\t\r"))
	if kind := eval[string](t, ctx, `document.getElementById("password").type`); kind != "text" {
		t.Errorf("the password is not shown: %q", kind)
	}
	do(t, ctx, "sign in", chromedp.KeyEvent("\t\r"), chromedp.WaitVisible("#label"))
	do(t, ctx, "another", chromedp.Navigate(served.URL+"/people"), chromedp.WaitVisible(".persons"))
	do(t, ctx, "invite", chromedp.SendKeys("#name", "Ben\r"), chromedp.WaitVisible(".secret"))
	if code := eval[string](t, ctx, `document.querySelector(".secret").textContent`); len(code) != 19 {
		t.Errorf("code %q", code)
	}
	v.looks(t, "code")
	code := eval[string](t, ctx, `document.querySelector(".secret").textContent`)
	do(t, ctx, "join", chromedp.Navigate(served.URL+"/join"), chromedp.WaitVisible("#code"))
	do(t, ctx, "step", chromedp.KeyEvent(strings.ToLower(code)+"\r"), chromedp.WaitVisible(".scripted #new-password")) // with its styles
	v.looks(t, "join")
	for _, l := range say.Langs() {
		v := visit{ctx, served.URL, l, 0, h.Catalogue}
		for _, target := range []string{"/people", "/shares", "/me", "/", link} {
			do(t, ctx, target, chromedp.Navigate(served.URL+target+"?lang="+l.String()), chromedp.WaitReady("main h1"))
			eval[bool](t, ctx, `(document.querySelectorAll("details").forEach((e) => { e.open = true; }), true)`)
			v.onBoth(t, func(v visit) { v.looks(t, target) })
		}
	}
	for _, target := range []string{"/advice?at=0.1+0.2", link} { // a signed-in visitor's prints, and an outsider's
		do(t, ctx, target, chromedp.Navigate(served.URL+target), chromedp.WaitReady("main h1"))
		v.prints(t)
	}
	do(t, ctx, "sign out", chromedp.Navigate(served.URL+"/me?lang=en"), chromedp.Click(".visitor button"), chromedp.WaitVisible("p.done"))
	do(t, ctx, "back", chromedp.NavigateBack(), chromedp.WaitReady("main h1"))
	if at := eval[string](t, ctx, `document.querySelector("main h1").textContent`); at != "Sign in" {
		t.Errorf("after signing out the page of before is still there: %q", at)
	}
	complaints(t, ctx, messages)
}

// looks checks what can be counted of a screen: it needs no scrolling sideways, has one
// heading, and every field and button has words.
func (v visit) looks(t *testing.T, what string) {
	t.Helper()
	v.fits(t)
	faults := eval[[]string](t, v.ctx, `[
		...[...document.querySelectorAll("h1")].slice(1).map((e) => "second heading " + e.textContent),
		...[...document.querySelectorAll("input:not([type=hidden]), select")].filter((e) => e.offsetParent && !e.labels.length && !e.ariaLabel && !e.alt).map((e) => "no label: " + e.outerHTML),
		...[...document.querySelectorAll("a, button, summary")].filter((e) => !e.textContent.trim()).map((e) => "no words: " + e.outerHTML),
		...[...document.querySelectorAll("[aria-describedby]")].filter((e) => !document.getElementById(e.getAttribute("aria-describedby"))).map((e) => "no description: " + e.outerHTML),
		...[...document.querySelectorAll("a, button, input, select, summary")].filter((e) => e.tabIndex < 0).map((e) => "out of reach: " + e.outerHTML),
		...[...document.querySelectorAll("main button, main select, main input:not([type=image], [type=radio], [type=checkbox])")].filter((e) => e.offsetParent && e.getBoundingClientRect().height < 24).map((e) => "too small: " + e.outerHTML),
		...performance.getEntriesByType("resource").filter((e) => !e.name.startsWith(location.origin)).map((e) => "from elsewhere: " + e.name),
	]`)
	if len(faults) > 0 {
		t.Errorf("%s, %v, %d pixels: %q", what, v.lang, v.width, faults)
	}
}
