package server_test

import (
	"net/http/httptest"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"waterstrike/ui/say"

	"github.com/chromedp/chromedp"
)

// mapped opens the map and waits until it is drawn.
func (v visit) mapped(t testing.TB, query string) {
	t.Helper()
	do(t, v.ctx, "map", chromedp.Navigate(v.address+"/map?lang="+v.lang.String()+query), chromedp.WaitVisible(".atlas[data-ready]"))
}

// until waits for something of the page to become true.
func (v visit) until(t testing.TB, what, condition string) {
	t.Helper()
	for range 300 {
		if eval[bool](t, v.ctx, condition) {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("%s did not come: %s", what, condition)
}

// The map in each language on a phone and on a desk: a click gives the short answer, which
// leads to the full one; the view stands in the address; nothing complains or comes from
// elsewhere.
func TestMapInABrowser(t *testing.T) {
	t.Parallel()
	b := newBench(t, land{}, nil)
	served := httptest.NewServer(b.Handler())
	t.Cleanup(served.Close)
	ctx := browser(t)
	messages := chromedp.Console(ctx)
	for _, width := range []int64{360, 1280} {
		do(t, ctx, "size", chromedp.EmulateViewport(width, 800))
		for _, l := range say.Langs() {
			v := visit{ctx, served.URL, l, width, b.Catalogue}
			v.mapped(t, "")
			v.looks(t, "map")
			v.asksOnTheMap(t)
		}
	}
	for _, l := range say.Langs() {
		v := visit{ctx, served.URL, l, 0, b.Catalogue}
		do(t, ctx, "list", chromedp.Navigate(served.URL+"/list?lang="+l.String()), chromedp.WaitReady("main table"))
		v.onBoth(t, func(v visit) { v.looks(t, "list") })
		do(t, ctx, "section", chromedp.Navigate(served.URL+"/section?a=0.1,0.1&b=0.2,0.2&lang="+l.String()), chromedp.WaitReady("main figure"))
		v.onBoth(t, func(v visit) { v.looks(t, "section") })
	}
	do(t, ctx, "size", chromedp.EmulateViewport(1280, 800))
	v := visit{ctx, served.URL, say.EN, 1280, b.Catalogue}
	v.filters(t)
	v.finds(t)
	v.draws(t)
	v.byKeyboard(t)
	if slices.Contains(b.Routes(), "/surface.json") {
		v.shows(t)
	} else if eval[bool](t, ctx, `document.querySelector(".atlas-surface") !== null`) {
		t.Error("the map offers surfaces that nobody works out")
	}
	complaints(t, ctx, messages)
}

// asksOnTheMap clicks the middle of the map, which is the middle of the land.
func (v visit) asksOnTheMap(t *testing.T) {
	t.Helper()
	middle := eval[[]float64](t, v.ctx, `(() => { const box = document.querySelector(".atlas-sheet").getBoundingClientRect(); return [box.left + box.width / 2, box.top + box.height / 2]; })()`)
	do(t, v.ctx, "click", chromedp.MouseClickXY(middle[0], middle[1]), chromedp.WaitVisible(".spot h2"))
	if got, want := eval[string](t, v.ctx, `document.querySelector(".spot h2").textContent.trim()`), v.words.Say(v.lang, say.Msg("verdict.go")); got != want {
		t.Errorf("the verdict is %q, want %q", got, want)
	}
	href, err := url.Parse(eval[string](t, v.ctx, `document.querySelector(".spot a.act").href`))
	if err != nil || href.Path != "/advice" || !strings.HasPrefix(href.Query().Get("lat"), "0.2") {
		t.Errorf("the full advice is at %v (%v)", href, err)
	}
	if at := eval[string](t, v.ctx, `new URLSearchParams(location.search).get("p")`); !strings.HasPrefix(at, "0.2") {
		t.Errorf("the address keeps the place as %q", at)
	}
	v.fits(t)
}

// counted is how many bores the map shows, one by one or in groups.
const counted = `document.querySelector(".atlas").map.getAllLayers().flatMap((l) => {
	const s = l.getSource(); return s?.getUrls?.()?.[0]?.includes("/bores/") ? [s.getUrls()[0]] : []; }).join()`

func (v visit) filters(t *testing.T) {
	v.mapped(t, "")
	eval[bool](t, v.ctx, `(document.querySelector(".atlas-meant").closest("details").open = true, document.querySelector("[name=outcome][value=dry]").click(), true)`)
	v.until(t, "the tiles of dry bores", counted+`.includes("outcome=dry")`)
	if at := eval[string](t, v.ctx, `location.search`); !strings.Contains(at, "outcome=dry") {
		t.Errorf("the address does not keep what is meant: %s", at)
	}
	if list := eval[string](t, v.ctx, `document.querySelector("a.to-list").href`); !strings.Contains(list, "outcome=dry") || !strings.Contains(list, "box=") {
		t.Errorf("the list is not of the same: %s", list)
	}
	eval[bool](t, v.ctx, `(document.querySelector("[name=layer][value=rivers]").click(), true)`)
	v.mapped(t, "&"+strings.TrimPrefix(eval[string](t, v.ctx, `location.search`), "?"))
	if eval[bool](t, v.ctx, `document.querySelector("[name=layer][value=rivers]").checked || !document.querySelector("[name=outcome][value=dry]").checked`) {
		t.Error("the address does not bring the view back")
	}
}

func (v visit) finds(t *testing.T) {
	v.mapped(t, "")
	do(t, v.ctx, "position", chromedp.SendKeys("#find", "0°06'N 0°12'E\r"), chromedp.WaitVisible(".spot h2"))
	if at := eval[string](t, v.ctx, `new URLSearchParams(location.search).get("p")`); at != "0.1,0.2" {
		t.Errorf("found %q", at)
	}
	v.mapped(t, "")
	do(t, v.ctx, "name", chromedp.SendKeys("#find", "belle\r"), chromedp.WaitVisible(".found button"))
	if n := eval[int](t, v.ctx, `document.querySelectorAll(".found button").length`); n != 2 {
		t.Errorf("%d places named Belle", n)
	}
	do(t, v.ctx, "choose", chromedp.Click(".found button"), chromedp.WaitVisible(".spot h2"))
}

func (v visit) draws(t *testing.T) {
	v.mapped(t, "")
	do(t, v.ctx, "section", chromedp.Click("[data-act=section]"), chromedp.WaitVisible(".atlas-hint"))
	box := eval[[]float64](t, v.ctx, `(() => { const b = document.querySelector(".atlas-sheet").getBoundingClientRect(); return [b.left, b.top, b.width, b.height]; })()`)
	do(t, v.ctx, "ends", chromedp.MouseClickXY(box[0]+box[2]*0.4, box[1]+box[3]*0.5), chromedp.Sleep(400*time.Millisecond),
		chromedp.MouseClickXY(box[0]+box[2]*0.6, box[1]+box[3]*0.5))
	v.until(t, "the drawing", `document.querySelector(".section-picture")?.naturalWidth > 0`)
	if at := eval[string](t, v.ctx, `new URLSearchParams(location.search).get("line")`); len(strings.Split(at, ",")) != 4 {
		t.Errorf("the address keeps the line as %q", at)
	}
}

// shows lays a surface over the land, with its classes in words, and how sure it is one
// tick away.
func (v visit) shows(t *testing.T) {
	v.mapped(t, "&s=chance")
	v.until(t, "the classes of the surface", `document.querySelectorAll(".surface-key li").length > 3`)
	before := eval[string](t, v.ctx, `document.querySelector(".surface-key strong").textContent`)
	eval[bool](t, v.ctx, `(document.querySelector(".atlas-surface [name=sure]").click(), true)`)
	v.until(t, "how sure", `document.querySelector(".surface-key strong").textContent !== `+strconv.Quote(before))
	if at := eval[string](t, v.ctx, `location.search`); !strings.Contains(at, "s=chance") || !strings.Contains(at, "sure=yes") {
		t.Errorf("the address does not keep the surface: %s", at)
	}
}

// byKeyboard asks in the middle of the map and closes the answer, without a pointer.
func (v visit) byKeyboard(t *testing.T) {
	v.mapped(t, "")
	eval[bool](t, v.ctx, `(document.querySelector(".atlas-sheet").focus(), true)`)
	do(t, v.ctx, "enter", chromedp.KeyEvent("\r"), chromedp.WaitVisible(".spot h2"))
	do(t, v.ctx, "escape", chromedp.KeyEvent("\x1b"))
	v.until(t, "the map alone", `document.querySelector(".atlas-answer").hidden`)
}
