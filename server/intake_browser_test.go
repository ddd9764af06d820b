package server_test

import (
	"net/http/httptest"
	"strings"
	"testing"

	"waterstrike/ui/say"

	"github.com/chromedp/chromedp"
)

// dropped puts files onto the field as a hand does that drops them.
const dropped = `(() => {
	const data = new DataTransfer();
	data.items.add(new File([NAME], "wells.csv", { type: "text/csv" }));
	document.querySelector("hand-in").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
	return document.querySelector(".picked").textContent;
})()`

// TestIntakeInABrowser drops a file, corrects what its columns are, reads and applies it and
// takes it back, and looks at each screen in each language on a phone and on a desk.
func TestIntakeInABrowser(t *testing.T) {
	t.Parallel()
	h := newBench(t, land{}, nil, taking(t))
	served := httptest.NewServer(h.Handler())
	t.Cleanup(served.Close)
	ctx := browser(t)
	messages := chromedp.Console(ctx)
	do(t, ctx, "size", chromedp.EmulateViewport(360, 740))
	do(t, ctx, "list", chromedp.Navigate(served.URL+"/intake?lang=en"), chromedp.WaitVisible("#files"))
	everywhere := func(what, target string) {
		t.Helper()
		for _, l := range say.Langs() {
			v := visit{ctx, served.URL, l, 0, h.Catalogue}
			do(t, ctx, what, chromedp.Navigate(served.URL+target+"?lang="+l.String()), chromedp.WaitReady("main h1"))
			eval[bool](t, ctx, `(document.querySelectorAll("details").forEach((e) => { e.open = true; }), true)`)
			v.onBoth(t, func(v visit) { v.looks(t, what) })
		}
		do(t, ctx, "back to English", chromedp.Navigate(served.URL+target+"?lang=en"), chromedp.WaitReady("main h1"))
	}
	once := func(what string) { visit{ctx, served.URL, say.EN, 360, h.Catalogue}.looks(t, what) }
	once("the empty list")
	if got := eval[string](t, ctx, strings.Replace(dropped, "NAME", "\"\\u0000\".repeat(2e8)", 1)); !strings.Contains(got, "200 MB") {
		t.Errorf("what was dropped is listed as %q", got)
	}
	if told := eval[string](t, ctx, `document.querySelector(".told").textContent`); !strings.Contains(told, "larger than 128 MB") {
		t.Errorf("of a file that is too large the page says %q", told)
	}
	if got := eval[string](t, ctx, strings.Replace(dropped, "NAME", "`"+wells()+"`", 1)); !strings.Contains(got, "wells.csv") {
		t.Errorf("what was dropped is listed as %q", got)
	}
	do(t, ctx, "hand in", chromedp.Click("hand-in button"), chromedp.WaitVisible("form.matching"))
	arrival := eval[string](t, ctx, `location.pathname`)
	everywhere("the matching", arrival)
	if open := eval[int64](t, ctx, `document.querySelectorAll(".columns > .open").length`); open != 1 {
		t.Errorf("%d columns lack a unit", open)
	}
	choose := func(id, value string) {
		t.Helper()
		eval[bool](t, ctx, `(document.getElementById("`+id+`").value = "`+value+`", true)`)
	}
	choose("written.0.3", "ft")
	choose("value.0.5.2", "dry")
	do(t, ctx, "read", chromedp.Click(`button[value="read"]`), chromedp.WaitVisible(".draft"))
	everywhere("the draft", arrival)
	if rows := eval[int64](t, ctx, `document.querySelectorAll(".finding .wrong").length`); rows < 2 {
		t.Errorf("%d cells are marked as wrong", rows)
	}
	do(t, ctx, "apply", chromedp.Click(".draft button"), chromedp.WaitVisible(".way-in li:last-child.now"))
	once("applied")
	everywhere("the list", "/intake")
	do(t, ctx, "open", chromedp.Click(".arrivals summary"), chromedp.WaitVisible(".arrivals button"))
	do(t, ctx, "take back", chromedp.Click(".arrivals button"), chromedp.WaitVisible(".arrivals .over"))
	complaints(t, ctx, messages)
}
