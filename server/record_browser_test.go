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
	for _, width := range []int64{360, 1280} {
		do(t, ctx, "size", chromedp.EmulateViewport(width, 800))
		for _, l := range say.Langs() {
			v := visit{ctx, served.URL, l, width, b.Catalogue}
			for _, path := range []string{"/bores/" + drilledID + "/edit", "/sitings/new", "/sitings/" + visitID, "/bores/" + drilledID} {
				do(t, ctx, path, chromedp.Navigate(served.URL+path+"?lang="+l.String()), chromedp.WaitVisible("main h1"))
				v.fits(t)
			}
			v.prints(t)
		}
	}
	complaints(t, ctx, messages)
}
