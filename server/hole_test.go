package server_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

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
		{name: "pack", target: "/hole/pack.json?at=0.1+0.2", status: 200, holds: []string{`"schema":"waterstrike.holepack.2"`, `"lat":0.1`}},
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
	if got := eval[string](t, ctx, `document.querySelector(".entry h2").textContent`); !strings.Contains(got, "5.0\u00a0m") {
		t.Errorf("after four taps and one: %q", got)
	}
	do(t, ctx, "undo", chromedp.Click(`.entry > button`), chromedp.WaitVisible(`.hole[aria-busy="false"]`))
	if got := eval[string](t, ctx, `document.querySelector(".entry h2").textContent`); !strings.Contains(got, "4.0\u00a0m") {
		t.Errorf("taken back: %q", got)
	}
}

// A finished hole is handed over: without a network its record waits on the phone and
// arrives with the next page; with one the form of a bore opens with all that was tapped,
// and what was handed over before leads to its record.
func TestHoleBecomesARecord(t *testing.T) {
	t.Parallel()
	b, base := newShelved(t)
	down := false
	served := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if down {
			if conn, _, err := http.NewResponseController(w).Hijack(); err == nil {
				conn.Close()
			}
			return
		}
		b.Handler().ServeHTTP(w, r)
	}))
	t.Cleanup(served.Close)
	ctx := browser(t)
	do(t, ctx, "phone", chromedp.EmulateViewport(360, 740))
	dig := func(at string, classes ...string) {
		t.Helper()
		do(t, ctx, "page", chromedp.Navigate(served.URL+"/hole?lang=en&at="+at), chromedp.WaitVisible(`.hole[aria-busy="false"]`))
		for _, class := range classes {
			do(t, ctx, class, chromedp.Click(`button[data-class="`+class+`"]`), chromedp.WaitVisible(`.hole[aria-busy="false"]`))
		}
	}
	hand := func() {
		t.Helper()
		do(t, ctx, "handing over", chromedp.WaitVisible(`[data-hand-over]`), chromedp.SetValue(`#outcome`, "dry"), chromedp.Click(`[data-hand-over]`))
	}
	bores := func() (found []geo.Bore) {
		t.Helper()
		if err := base.Bores(t.Context(), func(b geo.Bore) error { found = append(found, b); return nil }); err != nil {
			t.Fatal(err)
		}
		return found
	}

	dig("0.1+0.2", "topsoil", "clay", "clay")
	down = true
	hand()
	becomes(t, ctx, "waiting", `document.querySelector(".after [role=status]")?.textContent.includes("waits on this phone")`)
	if len(bores()) != 0 {
		t.Error("a record arrived without a network")
	}
	down = false
	do(t, ctx, "another page", chromedp.Navigate(served.URL+"/?lang=en"), chromedp.WaitVisible("#at"))
	becomes(t, ctx, "sent", `Object.keys(localStorage).every((k) => !k.startsWith("waterstrike sends"))`)
	found := bores()
	if len(found) != 1 {
		t.Fatalf("%d records arrived", len(found))
	}
	if got := found[0]; got.Outcome != geo.Dry || got.DepthM.Or(0) != 3 || len(got.Layers) != 2 || got.Layers[1].Class.String() != "clay" || got.Layers[1].BaseM != 3 || !got.Completed.Known() {
		t.Errorf("kept is %+v", got)
	}
	dig("0.1+0.2")
	hand()
	becomes(t, ctx, "its record", `location.pathname === "/bores/`+string(found[0].ID)+`"`)

	dig("0.3+0.2", "topsoil", "sand")
	hand()
	do(t, ctx, "form", chromedp.WaitVisible(`[name="layer.1.base"]`))
	becomes(t, ctx, "the log in the form", `["at", "layer.0.class", "layer.1.class", "layer.1.base", "outcome", "depth"].map((n) => document.querySelector('form.long').elements[n].value).join(", ") ===
		"0.30000 0.20000, topsoil, sand, 2, dry, 2"`)
	eval[bool](t, ctx, `(document.querySelector("form.long").requestSubmit(), true)`)
	becomes(t, ctx, "saved", `/^\/bores\/[0-9a-f-]{36}$/.test(location.pathname) && location.search.includes("saved")`)
	if n := len(bores()); n != 2 {
		t.Errorf("%d records, want 2", n)
	}
}

// becomes waits until an expression of the page is true, however the page changes meanwhile.
func becomes(t *testing.T, ctx context.Context, what, expression string) {
	t.Helper()
	for begun := time.Now(); time.Since(begun) < 20*time.Second; time.Sleep(50 * time.Millisecond) {
		if yes, err := chromedp.Run(ctx, chromedp.Evaluate[bool](expression)); err == nil && yes {
			return
		}
	}
	t.Fatalf("%s: not within 20 s", what)
}
