package server_test

import (
	"context"
	"fmt"
	"net/http/httptest"
	"net/url"
	"slices"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/server"
	"waterstrike/ui/say"

	"github.com/chromedp/chromedp"
)

// schooled is an advisor over a part of the bores of an invented region, and these.
func schooled(t *testing.T) (*advisor.Advisor, []geo.Bore) {
	t.Helper()
	bores := demoland.New(11).Records().Bores[:130]
	snapshot, err := evidence.Load(t.Context(), evidencetest.Bores(bores))
	if err != nil {
		t.Fatal(err)
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	a, err := advisor.New(t.Context(), snapshot, rules, "0.0.1")
	if err != nil {
		t.Fatal(err)
	}
	return a, bores
}

// wordy has more to say about every point than anybody.
type wordy struct{ server.Advisor }

func (w wordy) Advise(ctx context.Context, q advisor.Question) (advisor.Advice, error) {
	a, err := w.Advisor.Advise(ctx, q)
	a.Cautions = slices.Repeat(a.Cautions, 3)
	return a, err
}

// Every advice is printed on one sheet of A4 in each language, also from a phone: two of
// each verdict that the region has at full size or nearly, and one that says more than any, smaller.
func TestAdvicesInABrowserPrintOnOneSheet(t *testing.T) {
	t.Parallel()
	real, bores := schooled(t)
	var points []string
	var planned string // with a plan, which is long
	met := map[geo.Code]int{}
	for _, b := range bores {
		at := b.Position.Or(coord.Reading{}).Pos
		a, err := real.Advise(t.Context(), advisor.Question{At: at, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if met[a.Verdict.Code]++; met[a.Verdict.Code] == 1 {
			points = append(points, url.Values{"lat": {fmt.Sprint(at.Lat)}, "lon": {fmt.Sprint(at.Lon)}}.Encode())
		}
		if a.Verdict.Code == advisor.Go && planned == "" {
			planned = points[len(points)-1]
		}
		if len(points) >= 3 && planned != "" {
			break
		}
	}
	if met["verdict.go"] == 0 || len(met) < 2 {
		t.Fatalf("the region tells %v: nothing long to print", met)
	}
	prints := func(adviser server.Advisor, long bool, points ...string) {
		b := newBench(t, land{}, nil, func(c *server.Config) { c.Advisor = adviser })
		served := httptest.NewServer(b.Handler())
		t.Cleanup(served.Close)
		ctx := browser(t)
		do(t, ctx, "size", chromedp.EmulateViewport(360, 740))
		for _, l := range say.Langs() {
			v := visit{ctx, served.URL, l, 360, b.Catalogue}
			for _, at := range points {
				do(t, ctx, at, chromedp.Navigate(served.URL+"/advice?"+at+"&lang="+l.String()), chromedp.WaitVisible(".verdict .words"))
				v.prints(t)
				fit := eval[float64](t, ctx, `+document.documentElement.style.getPropertyValue("--fit")`)
				if fit > 1 || long && fit == 1 || !long && fit < 0.94 {
					t.Errorf("%s in %v is printed at %v of the size", at, l, fit)
				}
			}
		}
	}
	prints(real, false, points...)
	prints(wordy{real}, true, planned)
}
