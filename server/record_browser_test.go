package server_test

import (
	"net/http/httptest"
	"testing"

	"waterstrike/ui/say"

	"github.com/chromedp/chromedp"
)

// The record and the forms fit their screens in each language, and the record prints on one
// sheet.
func TestRecordInABrowser(t *testing.T) {
	t.Parallel()
	b, _ := newShelved(t)
	b.mustSend(t, sent{Bore: drilled(), At: "0.1N 0.2E"}, 201)
	if w := b.acts("/sitings", visited()); w.Code != 303 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	served := httptest.NewServer(b.Handler())
	t.Cleanup(served.Close)
	ctx := browser(t)
	messages := chromedp.Console(ctx)
	for _, l := range say.Langs() {
		v := visit{ctx, served.URL, l, 0, b.Catalogue}
		for _, path := range []string{"/bores/" + drilledID + "/edit", "/sitings/new", "/sitings/" + visitID, "/bores/" + drilledID} {
			do(t, ctx, path, chromedp.Navigate(served.URL+path+"?lang="+l.String()), chromedp.WaitVisible("main h1"))
			v.onBoth(t, func(v visit) { v.fits(t) })
		}
		v.onBoth(t, func(v visit) { v.prints(t) })
	}
	do(t, ctx, "a narrow choice", chromedp.Navigate(served.URL+"/bores/"+drilledID+"/edit?lang=pt"), chromedp.WaitVisible("#f-method"))
	chosen := eval[string](t, ctx, `(() => { const s = document.querySelector("#f-method"); s.style.width = "4rem"; return s.selectedOptions[0].text; })()`)
	do(t, ctx, "its whole name", chromedp.WaitVisible("#f-method + .whole-choice"))
	if whole := eval[string](t, ctx, `document.querySelector("#f-method + .whole-choice").textContent`); chosen == "" || whole != chosen {
		t.Errorf("below the choice %q stands %q", chosen, whole)
	}
	eval[string](t, ctx, `document.querySelector("#f-method").style.width = "60rem"`)
	do(t, ctx, "a wide choice", chromedp.WaitNotPresent("#f-method + .whole-choice"))
	complaints(t, ctx, messages)
}
