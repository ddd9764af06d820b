package sheet_test

import (
	"math"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

func svg(t *testing.T, s draw.Scene, err error) string {
	t.Helper()
	var b strings.Builder
	if err == nil {
		err = s.WriteSVG(&b)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestChartPlace checks the map against geodesic distances, which geo/coord checks
// against GeographicLib.
func TestChartPlace(t *testing.T) {
	chart := sheet.Near(site, 5000, 320)
	if got := chart.PixelM(); math.Abs(got-31.25) > 1e-9 { // 10 km on 320 pixels
		t.Errorf("a pixel covers %v m, want 31.25", got)
	}
	const tol = 0.5 // m: the plane's error at 7 km is 2e-7 of the distance; rounding of the view less
	for _, c := range []struct{ x, y, eastM, northM float64 }{{0.5, 0.5, 0, 0}, {1, 0.5, 5000, 0}, {0.5, 0, 0, 5000}, {0, 1, -5000, -5000}} {
		p := chart.Place(c.x, c.y)
		if d := coord.DistanceM(site, p); math.Abs(d-math.Hypot(c.eastM, c.northM)) > tol {
			t.Errorf("(%v, %v) is %v m away", c.x, c.y, d)
		}
		if (p.Lon-site.Lon)*c.eastM < 0 || (p.Lat-site.Lat)*c.northM < 0 {
			t.Errorf("(%v, %v) lies on the wrong side: %v", c.x, c.y, p)
		}
	}
}

func TestWholeHoldsEveryPlace(t *testing.T) {
	chart, err := sheet.Whole(ground(), 560)
	if err != nil {
		t.Fatal(err)
	}
	upper, lower := chart.Place(0, 0), chart.Place(1, 1)
	if upper.Lon > 0 || upper.Lat < 0.5 || lower.Lon < 0.5 || lower.Lat > 0 {
		t.Errorf("the land of 0..0.5 degrees does not fit between %v and %v", upper, lower)
	}
	if _, err := sheet.Whole(sheet.Ground{}, 320); geo.KindOf(err) != geo.TooFewData {
		t.Errorf("an empty ground: got %v", err)
	}
	one := sheet.Ground{Bores: []sheet.MapBore{{At: site}}}
	if chart, err := sheet.Whole(one, 320); err != nil || !(chart.PixelM() > 0) {
		t.Errorf("a single bore: %v, %v m a pixel", err, chart.PixelM())
	}
}

func TestChartNamesWhatFits(t *testing.T) {
	chart, err := sheet.Whole(ground(), 560)
	if err != nil {
		t.Fatal(err)
	}
	scene, err := chart.Draw(catalogue(t), say.EN, ground(), &site)
	doc := svg(t, scene, err)
	if !strings.Contains(doc, "Anse Verte") || !strings.Contains(doc, "Calebasse") {
		t.Error("a village is not named")
	}
	if strings.Contains(doc, "Bellefontaine") { // 16 m from Anse Verte: the names would cover each other
		t.Error("a name covers another")
	}
	legend, err := chart.Legend(catalogue(t), say.FR, ground(), &site)
	if doc := svg(t, legend, err); !strings.Contains(doc, "Cours d&#39;eau") || !strings.Contains(doc, "Ce point") {
		t.Errorf("the legend lacks the river or the point: %s", doc)
	}
}

// TestFarLinesAreLeftOut looks inside the land: its boundary surrounds the view but does
// not cross it, so that the legend must not explain it.
func TestFarLinesAreLeftOut(t *testing.T) {
	inside := coord.LonLat{Lon: 0.3, Lat: 0.2}
	g := ground()
	g.Bores = []sheet.MapBore{{At: inside, Outcome: geo.Dry}}
	legend, err := sheet.Near(inside, 1000, 320).Legend(catalogue(t), say.EN, g, nil)
	doc := svg(t, legend, err)
	if strings.Contains(doc, "Boundary") || strings.Contains(doc, "River") || !strings.Contains(doc, "dry") {
		t.Errorf("the legend of a view without lines: %s", doc)
	}
}

func TestChartRefusesAnUnknownOutcome(t *testing.T) {
	g := sheet.Ground{Bores: []sheet.MapBore{{At: site, Outcome: "gold"}}}
	if _, err := sheet.Near(site, 1000, 320).Draw(catalogue(t), say.EN, g, nil); err == nil {
		t.Errorf("got %v", err)
	}
}
