package server_test

import (
	"net/http/httptest"
	"strings"
	"testing"

	"waterstrike/geo"

	"github.com/chromedp/chromedp"
)

func TestHolePage(t *testing.T) {
	runAll(t, []scenario{
		{
			name: "page", target: "/hole?at=0.1+0.2", headers: html, status: 200,
			holds: []string{"At the open hole", `data-pack="/hole/pack.json?at=0.1&#43;0.2"`, "/static/js/hole/page.js", "hole.because.chance"},
			lacks: []string{"⟨", "style=", "<script>"},
		},
		{name: "page in French", target: "/hole?lang=fr", status: 200, holds: []string{"Au trou ouvert"}, lacks: []string{"⟨"}},
		{name: "pack", target: "/hole/pack.json?at=0.1+0.2", status: 200, holds: []string{`"schema":"waterstrike.holepack.1"`, `"lat":0.1`}},
		{name: "pack of nowhere", target: "/hole/pack.json", status: 400, holds: []string{"No point was given"}},
		{name: "keeper", target: "/hole/keeper.js", status: 200, holds: []string{"/static/js/hole/", `"answer", "ground"`}},
		{name: "from the advice", target: "/advice?at=0.1+0.2", status: 200, holds: []string{`href="/hole?at=0.1&#43;0.2`}},
	})
	if got := newBench(t, land{}, nil).get("/hole/keeper.js").Header().Get("Service-Worker-Allowed"); got != "/hole" {
		t.Errorf("the keeper may keep %q", got)
	}
	few := newBench(t, land{}, geo.Fail(geo.TooFewData, "test", geo.Say("evidence.no-logs"), nil))
	if w := few.get("/hole/pack.json?at=0.1+0.2"); w.Code < 400 || w.Code >= 500 {
		t.Errorf("too few data: status %d", w.Code)
	}
}

// A crew goes down metre by metre; the connection breaks; the page opens again with the log
// and goes on answering.
func TestHoleInABrowser(t *testing.T) {
	t.Parallel()
	b := newBench(t, land{}, nil)
	served := httptest.NewServer(b.Handler())
	closed := false
	t.Cleanup(func() {
		if !closed {
			served.Close()
		}
	})
	ctx := browser(t)
	do(t, ctx, "phone", chromedp.EmulateViewport(360, 740))
	address := served.URL + "/hole?at=0.1+0.2&lang=en"
	do(t, ctx, "page", chromedp.Navigate(address), chromedp.WaitVisible(`.do.go, .do.care, .do.avoid`))
	eval[bool](t, ctx, `(navigator.serviceWorker.ready.then(() => document.body.classList.add("kept")), true)`)
	do(t, ctx, "keeper", chromedp.WaitVisible(`body.kept`))
	tap := func(class string) {
		t.Helper()
		do(t, ctx, class, chromedp.Click(`button[data-class="`+class+`"]`), chromedp.WaitVisible(`.hole[aria-busy="false"]`))
	}
	do(t, ctx, "again, so that the keeper sees it", chromedp.Navigate(address), chromedp.WaitVisible(`.hole[aria-busy="false"]`))
	tap("topsoil")
	tap("clay")
	tap("clay")
	if got := eval[int64](t, ctx, `document.documentElement.scrollWidth`); got > 360 {
		t.Errorf("the page is %d pixels wide on a phone", got)
	}
	served.CloseClientConnections()
	served.Close()
	closed = true
	tap("sand")
	do(t, ctx, "without a network", chromedp.Navigate(address))
	do(t, ctx, "shown", chromedp.WaitVisible(`.hole[aria-busy="false"]`))
	log := eval[string](t, ctx, `JSON.stringify(Object.values({...localStorage}).map((x) => JSON.parse(x).log.layers.map((l) => [l.topM, l.baseM, l.class].join(" "))))`)
	if want := `[["0 1 topsoil","1 3 clay","3 4 sand"]]`; log != want {
		t.Errorf("kept are %s, want %s", log, want)
	}
	tap("sand")
	if got := eval[string](t, ctx, `document.querySelector(".entry h2").textContent`); !strings.Contains(got, "5.0 m") {
		t.Errorf("after four taps and one: %q", got)
	}
	do(t, ctx, "undo", chromedp.Click(`.entry > button`), chromedp.WaitVisible(`.hole[aria-busy="false"]`))
	if got := eval[string](t, ctx, `document.querySelector(".entry h2").textContent`); !strings.Contains(got, "4.0 m") {
		t.Errorf("taken back: %q", got)
	}
}
