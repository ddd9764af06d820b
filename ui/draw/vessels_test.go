package draw_test

import (
	"math"
	"testing"

	"waterstrike/ui/draw"
)

// area is that of a closed path, by the shoelace formula.
func area(points []draw.Point) float64 {
	sum := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return math.Abs(sum) / 2
}

// What is filled of a vessel is the share of its area, from below; areas go by amounts.
func TestVesselsAreFilledByArea(t *testing.T) {
	for _, share := range []float64{0, 0.1, 0.25, 0.5, 0.8, 0.99, 1} {
		s, err := draw.Vessels(draw.VesselMap{Vessels: []draw.Vessel{{At: draw.Point{X: 0, Y: 0}, Amount: 100, Share: share}, {At: draw.Point{X: 900, Y: 900}, Amount: 25}}}, sheetOfMap())
		if err != nil {
			t.Fatal(err)
		}
		var discs []draw.Circle
		filled, lowest := 0.0, 0.0
		for _, it := range s.Items {
			group, ok := it.(draw.Group)
			if !ok {
				continue
			}
			for _, it := range group.Items {
				switch it := it.(type) {
				case draw.Circle:
					discs = append(discs, it)
				case draw.Path:
					filled = area(it.Points)
					for _, p := range it.Points {
						lowest = max(lowest, p.Y)
					}
				}
			}
		}
		if len(discs) != 2 || math.Abs(discs[0].RadiusMM/discs[1].RadiusMM-2) > 1e-9 {
			t.Fatalf("discs %+v", discs)
		}
		whole := math.Pi * discs[0].RadiusMM * discs[0].RadiusMM
		if share == 1 && discs[0].Fill.Color != "#1769aa" {
			t.Errorf("a full vessel is %+v", discs[0])
		}
		if share < 1 && math.Abs(filled/whole-share) > 0.02 { // a path of 24 corners for an arc
			t.Errorf("%.2f of the vessel is filled, want %.2f", filled/whole, share)
		}
		if share > 0 && share < 1 && lowest < discs[0].Center.Y+0.98*discs[0].RadiusMM {
			t.Errorf("%.2f: it is not filled from below", share)
		}
	}
	for name, d := range map[string]draw.VesselMap{
		"nothing": {}, "a negative amount": {Vessels: []draw.Vessel{{Amount: -1}}}, "more than all": {Vessels: []draw.Vessel{{Amount: 1, Share: 1.1}}},
		"no number": {Vessels: []draw.Vessel{{Amount: math.NaN()}}}, "nowhere": {Vessels: []draw.Vessel{{At: draw.Point{X: math.Inf(1)}, Amount: 1}}},
	} {
		if _, err := draw.Vessels(d, sheetOfMap()); err == nil {
			t.Errorf("%s is drawn", name)
		}
	}
}

func sheetOfMap() draw.MapOptions {
	return draw.MapOptions{WidthMM: 90, HeightMM: 90, ID: "v-", Title: "Water", Desc: "Water", North: "N", Words: map[string]string{}}
}
