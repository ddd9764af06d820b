package server_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"waterstrike/server/account"
	"waterstrike/ui/say"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// Which server a page is looked at on, and as whom.
const (
	byStranger = iota // before anybody signs in
	byKeeper
	atTheDoor // in clear, before a device trusts this computer
	atFirst   // before there is a keeper
	fromDisk  // as a file that the keeper has kept
)

// pages lists every page of the route table with the addresses that it is looked at by. What
// stands in braces is a record that the test makes.
var pages = []struct {
	route     string
	by        int
	addresses []string
}{
	{"/sign-in", byStranger, []string{"/sign-in"}},
	{"/join", byStranger, []string{"/join"}},
	{"", byStranger, []string{"/none"}},
	{"/shared/:token", byStranger, []string{"{link}"}},
	{"/shared/:token/features", byStranger, []string{"{link}/features"}},
	{"/shared/:token/features/api", byStranger, []string{"{link}/features/api?f=html"}},
	{"/shared/:token/features/conformance", byStranger, []string{"{link}/features/conformance"}},
	{"/shared/:token/features/collections", byStranger, []string{"{link}/features/collections"}},
	{"/shared/:token/features/collections/:collection", byStranger, []string{"{link}/features/collections/bores"}},
	{"/shared/:token/features/collections/:collection/items", byStranger, []string{"{link}/features/collections/bores/items"}},
	{"/shared/:token/features/collections/:collection/items/:feature", byStranger, []string{"{link}/features/collections/bores/items/bb"}},
	{"/phone", atTheDoor, []string{"/phone"}},
	{"/begin", atFirst, []string{"/begin"}},
	{"/", byKeeper, []string{"/"}},
	{"/advice", byKeeper, []string{"/advice?at=0.1+0.2"}},
	{"/building", byKeeper, []string{"/building?at=0.1+0.2"}},
	{"/sheets", byKeeper, []string{"/sheets"}},
	{"/map", byKeeper, []string{"/map?p=0.1,0.2&s=chance"}},
	{"/spot", byKeeper, []string{"/map?p=0.1,0.2"}}, // a part of the page of the map
	{"/list", byKeeper, []string{"/list", "/list?of=points", "/list?of=rivers"}},
	{"/section", byKeeper, []string{"/section", "/section?a=0.1,0.1&b=0.2,0.2"}},
	{"/trust", byKeeper, []string{"/trust"}},
	{"/learnt", byKeeper, []string{"/learnt"}},
	{"/pumping", byKeeper, []string{"/pumping", "/pumping?readings=discharge:+788+m3/d%0Adistance+(m)%3B+drawdown+(m)%0A0.8%3B2.236%0A30%3B1.088%0A90%3B0.716"}},
	{"/bores/new", byKeeper, []string{"/bores/new"}},
	{"/bores/:bore/edit", byKeeper, []string{"/bores/{bore}/edit"}},
	{"/bores/:bore", byKeeper, []string{"/bores/{bore}"}},
	{"/choose", byKeeper, []string{"/choose", "/choose?" + asked}},
	{"/served", byKeeper, []string{"/served"}},
	{"/served.html", fromDisk, []string{"/served.html"}},
	{"/features", byKeeper, []string{"/features"}},
	{"/features/api", byKeeper, []string{"/features/api?f=html"}},
	{"/features/conformance", byKeeper, []string{"/features/conformance"}},
	{"/features/collections", byKeeper, []string{"/features/collections"}},
	{"/features/collections/:collection", byKeeper, []string{"/features/collections/bores"}},
	{"/features/collections/:collection/items", byKeeper, []string{"/features/collections/bores/items"}},
	{"/features/collections/:collection/items/:feature", byKeeper, []string{"/features/collections/bores/items/bb"}},
	{"/hole", byKeeper, []string{"/hole?at=0.1+0.2"}},
	{"/sitings/new", byKeeper, []string{"/sitings/new"}},
	{"/sitings/:siting", byKeeper, []string{"/sitings/{siting}"}},
	{"/sitings/:siting/edit", byKeeper, []string{"/sitings/{siting}/edit"}},
	{"/me", byKeeper, []string{"/me"}},
	{"/people", byKeeper, []string{"/people"}},
	{"/shares", byKeeper, []string{"/shares"}},
	{"/intake", byKeeper, []string{"/intake"}},
	{"/intake/:arrival", byKeeper, []string{"/intake/{matching}", "/intake/{draft}"}},
	{"", byKeeper, []string{"/none"}},
}

// TestEveryPageIsLookedAt: what the routes answer to a person is either data or in the list
// above.
func TestEveryPageIsLookedAt(t *testing.T) {
	h := housed(t, secured(t), taking(t))
	visitors := []*browsing{h.signedIn(t, "Ana Keeper"), h.browse(), vacant(t).browse()}
	listed := map[string]bool{"": true}
	for _, p := range pages {
		listed[p.route] = true
	}
	for _, r := range readRights(t) {
		if r.method != http.MethodGet || strings.HasPrefix(r.route, "/tiles/") {
			continue
		}
		page := false
		for _, who := range visitors {
			ending := path.Ext(r.route) // data that is not there is told by a page too
			kind := who.get(r.target).Header().Get("Content-Type")
			page = page || strings.HasPrefix(kind, "text/html") && (ending == "" || ending == ".html")
		}
		if page != listed[r.route] {
			t.Errorf("%s: a page %v, looked at %v", r.route, page, listed[r.route])
		}
		delete(listed, r.route)
	}
	for route := range listed {
		if route != "" {
			t.Errorf("%s is looked at and is no route", route)
		}
	}
}

// gallery is a house with something on every page.
type gallery struct {
	house
	bases [5]string         // addresses of its servers
	made  *strings.Replacer // what stands in braces
}

func opened(t *testing.T) gallery {
	t.Helper()
	g := gallery{house: housed(t, taking(t))}
	close(g.seasons.wait)
	g.joins(t, "Ben Field", account.Field)
	keeper := g.signedIn(t, "Ana Keeper")
	link := g.share(t, keeper, url.Values{"days": {"30"}, "label": {"donor"}, "blur": {"yes"}})
	expect(t, "bore", keeper.post("/bores", filled()), http.StatusSeeOther)
	expect(t, "siting visit", keeper.post("/sitings", visited()), http.StatusSeeOther)
	matching, draft := keeper.handsIn("wells.csv", wells()).Header().Get("Location"), keeper.handsIn("more.csv", wells()).Header().Get("Location")
	keeper.rested(t, matching)
	sent := asProposed(keeper.rested(t, draft))
	sent.Set("written.0.3", "ft")
	sent.Set("do", "read")
	keeper.post(draft+"/match", sent)
	keeper.rested(t, draft)
	for _, target := range []string{"/trust", "/choose?" + asked} {
		keeper.rested(t, target)
	}
	g.made = strings.NewReplacer("{link}", link, "{bore}", enteredID, "{siting}", visitID, "/intake/{matching}", matching, "/intake/{draft}", draft)
	for by, s := range map[int]http.Handler{
		byStranger: g.Handler(), byKeeper: g.Handler(), atTheDoor: housed(t, secured(t)).Door(8420), atFirst: vacant(t).Handler(),
	} {
		served := httptest.NewServer(s)
		t.Cleanup(served.Close)
		g.bases[by] = served.URL
	}
	return g
}

// kept saves an answer as a browser does that was told to.
func (g gallery) kept(t *testing.T, target string) string {
	t.Helper()
	w := g.signedIn(t, "Ana Keeper").get(target)
	if !strings.HasPrefix(w.Header().Get("Content-Disposition"), "attachment") {
		t.Errorf("%s is shown: its styles are not", target)
	}
	file := filepath.Join(t.TempDir(), "kept.html")
	if err := os.WriteFile(file, w.Body.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestAccessible tries the rules of axe-core (testdata/README.md) on every page, on a phone
// and on a desk, in the light and the dark scheme, in two of the three languages each; in
// all of them where there is time.
func TestAccessible(t *testing.T) {
	rules, err := os.ReadFile("testdata/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	g := opened(t)
	for turn, screen := range []struct {
		name  string
		width int64
		dark  bool
	}{{"phone", 360, false}, {"desk", 1280, true}} {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			ctx := browser(t)
			do(t, ctx, "size", chromedp.EmulateViewport(screen.width, 800), scheme(screen.dark))
			came := false
			for n, p := range pages {
				if p.by == byKeeper && !came {
					came = true
					do(t, ctx, "come in", chromedp.Navigate(g.bases[byKeeper]+"/sign-in"), chromedp.WaitVisible("#name"),
						chromedp.SendKeys("#name", "Ana Keeper"), chromedp.SendKeys("#password", goodPassword+"\r"), chromedp.WaitVisible("#at"))
				}
				for _, target := range p.addresses {
					for i, l := range say.Langs() {
						if (n+turn)%len(say.Langs()) == i || os.Getenv("WATERSTRIKE_LONG") != "" {
							g.look(t, ctx, p.by, target, l, string(rules))
						}
					}
				}
			}
		})
	}
}

// look opens a page with all that it can unfold and tells what is wrong with it.
func (g gallery) look(t *testing.T, ctx context.Context, by int, target string, l say.Lang, rules string) {
	t.Helper()
	target = g.made.Replace(target)
	address, err := url.Parse(g.bases[by] + target)
	if err != nil {
		t.Fatal(err)
	}
	q := address.Query()
	q.Set("lang", l.String())
	address.RawQuery = q.Encode()
	if by == fromDisk {
		address = &url.URL{Scheme: "file", Path: g.kept(t, address.RequestURI())}
	}
	do(t, ctx, target, chromedp.Navigate(address.String()), chromedp.WaitReady("main h1"))
	if strings.HasPrefix(target, "/map") {
		do(t, ctx, target, chromedp.WaitVisible(".spot h2"))
	}
	if strings.HasPrefix(target, "/hole") {
		do(t, ctx, target, chromedp.WaitVisible(`.hole[aria-busy="false"]`))
	}
	eval[bool](t, ctx, `(document.querySelectorAll("details").forEach((e) => { e.open = true; }), true)`)
	for _, fault := range serious(t, ctx, rules) {
		t.Errorf("%s, %v: %s", target, l, fault)
	}
}

// serious runs the rules of axe-core on the page and lists what it calls serious or
// critical.
func serious(t *testing.T, ctx context.Context, rules string) []string {
	t.Helper()
	eval[bool](t, ctx, rules+`; true`)
	found, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations
		.filter((v) => v.impact === "serious" || v.impact === "critical")
		.flatMap((v) => v.nodes.map((n) => v.id + ": " + n.target.join(" ") + ": " + n.failureSummary)))`, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// scheme sets the colour scheme that the reader prefers.
func scheme(dark bool) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		value := map[bool]string{false: "light", true: "dark"}[dark]
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: value}},
		})
		return chromedp.Void{}, err
	}
}
