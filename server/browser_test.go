package server_test

import (
	"context"
	"iter"
	"math"
	"net/http/httptest"
	"net/url"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"waterstrike/geo/outside"
	"waterstrike/ui/say"

	"github.com/chromedp/chromedp"
)

// browser opens an empty window of the one browser, with cookies and storage of its own.
func browser(t testing.TB) context.Context {
	t.Helper()
	started, err := chromium.start(outside.Program(t, "chromium", "chromium"))
	if err != nil {
		t.Fatal(err)
	}
	ctx, closeTab := chromedp.NewContext(started, chromedp.WithNewBrowserContext(), chromedp.WithNewWindow(true))
	t.Cleanup(closeTab)
	do(t, ctx, "window", focused)
	limit := 4 * time.Minute
	if os.Getenv("WATERSTRIKE_LONG") != "" { // every page in every language
		limit *= 5
	}
	limited, cancel := context.WithTimeout(ctx, limit)
	t.Cleanup(cancel)
	return limited
}

// do runs steps and ends the test when one fails.
func do(t testing.TB, ctx context.Context, what string, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
}

func eval[T any](t testing.TB, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// visit is the page at one size in one language.
type visit struct {
	ctx     context.Context
	address string
	lang    say.Lang
	width   int64
	words   *say.Catalogue
}

func TestInABrowser(t *testing.T) {
	t.Parallel()
	b := newBench(t, land{}, nil)
	served := httptest.NewServer(b.Handler())
	t.Cleanup(served.Close)
	ctx := browser(t)
	messages := chromedp.Console(ctx)
	for _, size := range []struct {
		name          string
		width, height int64
	}{{"phone", 360, 740}, {"desktop", 1280, 900}} {
		do(t, ctx, size.name, chromedp.EmulateViewport(size.width, size.height))
		for _, l := range say.Langs() {
			t.Run(size.name+" "+l.String(), func(t *testing.T) {
				v := visit{ctx, served.URL, l, size.width, b.Catalogue}
				if l == say.EN || os.Getenv("WATERSTRIKE_LONG") != "" { // no word is read on these ways
					v.byClick(t)
					v.byKeys(t)
				}
				v.byVillage(t)
				v.byPosition(t)
				v.prints(t)
			})
		}
	}
	complaints(t, ctx, messages)
}

// complaints ends the gathering of what the browser complains about, and tells it.
func complaints(t *testing.T, ctx context.Context, messages iter.Seq2[chromedp.ConsoleMessage, error]) {
	t.Helper()
	eval[bool](t, ctx, `(console.log("the end"), true)`)
	for m, err := range messages {
		if err != nil || strings.Contains(m.Text, "the end") {
			break
		}
		if m.Type == "info" && strings.Contains(m.Text, "Cleared data types") { // as it was asked to
			continue
		}
		t.Errorf("the browser complains: %v", m)
	}
}

func (v visit) open(t *testing.T) {
	t.Helper()
	do(t, v.ctx, "first page", chromedp.Navigate(v.address+"/?lang="+v.lang.String()), chromedp.WaitVisible("#at"))
	if got := eval[string](t, v.ctx, `document.documentElement.lang`); got != v.lang.String() {
		t.Errorf("the page says it is in %q", got)
	}
	v.fits(t)
}

// onBoth looks at an opened page at the width of a phone and of a desk: it is laid out
// anew, not asked for again.
func (v visit) onBoth(t *testing.T, look func(visit)) {
	t.Helper()
	for _, width := range []int64{1280, 360} {
		do(t, v.ctx, "size", chromedp.EmulateViewport(width, 800))
		v.width = width
		look(v)
	}
}

// fits tells whether the page needs scrolling sideways.
func (v visit) fits(t *testing.T) {
	t.Helper()
	if got := eval[int64](t, v.ctx, `document.documentElement.scrollWidth`); got > v.width {
		t.Errorf("%s is %d pixels wide on a screen of %d", eval[string](t, v.ctx, `location.href`), got, v.width)
	}
	overflows := `[...document.querySelectorAll(".part td, .part li, .part p")].filter((e) =>
		e.getBoundingClientRect().right > e.closest(".part").getBoundingClientRect().right).map((e) => e.textContent)`
	if got := eval[[]string](t, v.ctx, overflows); len(got) > 0 {
		t.Errorf("these stand out of their card: %q", got)
	}
}

// answered waits for the verdict in its words.
func (v visit) answered(t *testing.T, what string) {
	t.Helper()
	do(t, v.ctx, what, chromedp.WaitVisible(".verdict .words"))
	got := eval[string](t, v.ctx, `document.querySelector(".verdict .words").textContent`)
	if want := v.words.Say(v.lang, say.Msg("verdict.go")); got != want {
		t.Errorf("%s: the verdict is %q, want %q", what, got, want)
	}
	v.fits(t)
}

func (v visit) byPosition(t *testing.T) {
	v.open(t)
	do(t, v.ctx, "position", chromedp.SendKeys("#at", "0.1 N 0.2 E\r"))
	v.answered(t, "position")
}

func (v visit) byVillage(t *testing.T) {
	v.open(t)
	do(t, v.ctx, "village", chromedp.SendKeys("#village", "anse\r"))
	v.answered(t, "village")
}

// byClick clicks the middle of the map, which is the middle of the land.
func (v visit) byClick(t *testing.T) {
	v.open(t)
	middle := eval[[]float64](t, v.ctx, `(() => {
		const map = [...document.querySelectorAll(".picture")].find((e) => e.offsetParent);
		map.scrollIntoView({ block: "center" });
		const box = map.getBoundingClientRect();
		return [box.left + box.width / 2, box.top + box.height / 2, box.width];
	})()`)
	if middle[2] != 320 && middle[2] != 560 {
		t.Errorf("the map is %v pixels wide: clicks would be read in the wrong place", middle[2])
	}
	do(t, v.ctx, "click", chromedp.MouseClickXY(middle[0], middle[1]))
	v.answered(t, "click")
	v.isNear(t, 0.25, 0.25)
}

// byKeys moves the cross from the middle of the map and asks there: ten steps of 40 pixels
// to the left would leave the map, so it stops at its edge.
func (v visit) byKeys(t *testing.T) {
	v.open(t)
	eval[bool](t, v.ctx, `(() => { [...document.querySelectorAll(".picture")].find((e) => e.offsetParent).focus(); return true; })()`)
	press := `document.activeElement.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft", shiftKey: true, bubbles: true, cancelable: true })),`
	eval[bool](t, v.ctx, strings.Repeat(press, 10)+` true`)
	do(t, v.ctx, "keys", chromedp.KeyEvent("\r"))
	v.answered(t, "keys")
	v.isNear(t, 0.25, -0.0104)
}

func (v visit) isNear(t *testing.T, lat, lon float64) {
	t.Helper()
	at, err := url.Parse(eval[string](t, v.ctx, `location.href`))
	if err != nil {
		t.Fatal(err)
	}
	gotLat, _ := strconv.ParseFloat(at.Query().Get("lat"), 64)
	gotLon, _ := strconv.ParseFloat(at.Query().Get("lon"), 64)
	const tol = 0.003 // degrees: two pixels of the small map
	if math.Abs(gotLat-lat) > tol || math.Abs(gotLon-lon) > tol {
		t.Errorf("asked at %v, %v; want %v, %v", gotLat, gotLon, lat, lon)
	}
}

var sheetOfPDF = regexp.MustCompile(`/Type /Page\b`) // one for each sheet in a file that is not packed

func (v visit) prints(t *testing.T) {
	file, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(sheetOfPDF.FindAll(file, -1)); n != 1 {
		t.Errorf("the advice prints on %d sheets", n)
	}
}

// The account fits its screen, in each language, with nothing standing out of its card.
func TestTrustInABrowser(t *testing.T) {
	t.Parallel()
	b := newBench(t, land{}, nil)
	until(t, b, "/trust", "<article")
	served := httptest.NewServer(b.Handler())
	t.Cleanup(served.Close)
	ctx := browser(t)
	for _, l := range say.Langs() {
		v := visit{ctx, served.URL, l, 0, b.Catalogue}
		do(t, ctx, "account", chromedp.Navigate(served.URL+"/trust?lang="+l.String()), chromedp.WaitVisible("article.account"))
		v.onBoth(t, func(v visit) { v.fits(t) })
		if n := eval[int64](t, ctx, `document.querySelectorAll("figure.drawing svg").length`); n != 5 {
			t.Errorf("%v: %d drawings", l, n)
		}
	}
}
