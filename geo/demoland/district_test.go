package demoland_test

import (
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/demoland"

	"github.com/paulmach/orb/planar"
)

// Every village lies in one district, every district has some, and their areas together
// are the region's.
func TestDistrictsAreTheRegion(t *testing.T) {
	for seed := uint64(11); seed <= 13; seed++ {
		l := demoland.New(seed)
		records, districts := l.Records(), l.Districts()
		area, villages := 0.0, map[string]int{}
		for _, d := range districts {
			if d.Kind != "district" || d.Name == records.Boundary.Name {
				t.Errorf("%d: %s is a %s", seed, d.Name, d.Kind)
			}
			area += planar.Area(d.Shape)
		}
		if whole := planar.Area(records.Boundary.Shape); area < 0.999*whole || area > 1.001*whole {
			t.Errorf("%d: the districts have %.4f of the region", seed, area/whole)
		}
		for _, v := range records.Villages {
			within := 0
			for _, d := range districts {
				if planar.MultiPolygonContains(d.Shape, v.Position.Pos.Point()) {
					within++
					villages[d.Name]++
				}
			}
			if within != 1 {
				t.Errorf("%d: %s lies in %d districts", seed, v.Name, within)
			}
		}
		if len(villages) != 4 {
			t.Errorf("%d: villages by district: %v", seed, villages)
		}
	}
}

// Most bores have a cost, which grows with depth.
func TestCosts(t *testing.T) {
	l := demoland.New(11)
	bores := l.Records().Bores
	costs := l.Costs(bores)
	if n := len(costs); n < 320 || n > 365 { // 6 of 7 of 400: 343, with 7 as the standard deviation
		t.Errorf("%d of %d bores have a cost", n, len(bores))
	}
	shallow, deep := []float64{}, []float64{}
	for _, b := range bores {
		money, known := costs[b.Code]
		if !known || b.Method != "auger" || b.Outcome == geo.Producing {
			continue
		}
		if money.Amount < 170 || money.Currency != "XTS" {
			t.Errorf("%s: %v", b.Code, money)
		}
		if d := b.DepthM.Or(0); d < 5 {
			shallow = append(shallow, money.Amount)
		} else if d > 10 {
			deep = append(deep, money.Amount)
		}
	}
	if mean(shallow) >= mean(deep) || len(shallow) == 0 {
		t.Errorf("shallow %v, deep %v", mean(shallow), mean(deep))
	}
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
