package draw_test

import (
	"math"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

func TestMapPlateIsToScale(t *testing.T) {
	view := draw.MapView{MinX: -1000, MinY: 0, MaxX: 1000, MaxY: 500}.Fit(80, 60)
	if view != (draw.MapView{MinX: -1000, MinY: -500, MaxX: 1000, MaxY: 1000}) { // 25 m per mm, centred
		t.Fatalf("Fit gave %v", view)
	}
	d := draw.MapData{Bores: []draw.MapBore{{At: draw.Point{X: 500, Y: 700}, Outcome: "producing"}}}
	s, err := draw.MapPlate(d, view, draw.MapOptions{WidthMM: 80, HeightMM: 60})
	if err != nil {
		t.Fatal(err)
	}
	at := centre(t, s.Items)
	const tol = 1e-9 // mm, double rounding
	if math.Abs(at.X-60) > tol || math.Abs(at.Y-12) > tol {
		t.Errorf("the bore stands at %v, want 60, 12", at)
	}
	if back := view.At(at.X/80, at.Y/60); math.Hypot(back.X-500, back.Y-700) > 1e-6 {
		t.Errorf("At gives back %v", back)
	}
	if !view.Has(draw.Point{X: 999, Y: 999}) || view.Has(draw.Point{X: 0, Y: 1001}) {
		t.Error("Has does not follow the view's edges")
	}
}

// centre finds the first circle of a scene.
func centre(t *testing.T, items []draw.Item) draw.Point {
	t.Helper()
	for _, it := range items {
		switch it := it.(type) {
		case draw.Circle:
			return it.Center
		case draw.Group:
			return centre(t, it.Items)
		}
	}
	t.Fatal("no circle")
	return draw.Point{}
}

func TestMapPlateRefuses(t *testing.T) {
	sheet := draw.MapOptions{WidthMM: 80, HeightMM: 60}
	tests := []struct {
		name string
		d    draw.MapData
		view draw.MapView
		want string
	}{
		{"no size", draw.MapData{}, draw.MapView{}, "no size"},
		{"other proportions", draw.MapData{}, draw.MapView{MaxX: 10, MaxY: 10}, "use Fit"},
		{"unknown outcome", draw.MapData{Bores: []draw.MapBore{{Outcome: "gold"}}}, draw.MapView{MaxX: 80, MaxY: 60}, "gold"},
	}
	for _, tt := range tests {
		if _, err := draw.MapPlate(tt.d, tt.view, sheet); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want an error with %q", tt.name, err, tt.want)
		}
	}
}

func TestMapLegendNamesOnlyWhatIsShown(t *testing.T) {
	d := draw.MapData{Bores: []draw.MapBore{{Outcome: "dry"}}, Villages: []draw.MapVillage{{Name: "Anse"}}}
	s, err := draw.MapLegend(d, draw.MapOptions{WidthMM: 80, Words: map[string]string{"outcome.dry": "dry", "village": "Village"}})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(words(t, svg(t, s)), "|"); got != "dry|Village" {
		t.Errorf("got %q", got)
	}
	if _, err := draw.MapLegend(draw.MapData{}, draw.MapOptions{WidthMM: 80}); err == nil {
		t.Error("an empty legend was drawn")
	}
}
