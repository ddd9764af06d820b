package demoland_test

import (
	"reflect"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
)

func TestRecordsAreSound(t *testing.T) {
	for _, l := range lands() {
		r := l.Records()
		ids := map[string]bool{}
		once := func(id string) {
			if ids[id] {
				t.Errorf("id %s stands twice", id)
			}
			ids[id] = true
		}
		for _, b := range r.Bores {
			if _, err := geo.NewBore(b); err != nil {
				t.Error(err)
			}
			if !l.Inside(b.Position.Or(coord.Reading{}).Pos) {
				t.Errorf("bore %s lies outside the land", b.Code)
			}
			checkLog(t, b)
			once(string(b.ID))
		}
		for _, v := range r.Villages {
			if _, err := geo.NewVillage(v); err != nil {
				t.Error(err)
			}
			once(string(v.ID))
		}
		for _, w := range r.Points {
			if _, err := geo.NewWaterPoint(w); err != nil {
				t.Error(err)
			}
			once(string(w.ID))
		}
		if len(r.Bores) != 400 || len(r.Villages) != 120 || len(r.Points) < 150 {
			t.Errorf("%d bores, %d villages, %d water points", len(r.Bores), len(r.Villages), len(r.Points))
		}
	}
}

// checkLog wants the layers of a clean record to follow on each other to the bottom, and
// levels only within the hole.
func checkLog(t *testing.T, b geo.Bore) {
	t.Helper()
	depth := 0.0
	for _, l := range b.Layers {
		if l.TopM != depth || l.Words == "" {
			t.Errorf("bore %s: layer from %v m follows on %v m, words %q", b.Code, l.TopM, depth, l.Words)
		}
		depth = l.BaseM
	}
	if depth != b.DepthM.Or(-1) {
		t.Errorf("bore %s: logged to %v m, drilled %v m", b.Code, depth, b.DepthM)
	}
	for _, level := range b.Levels {
		if d, ok := level.DepthM.Get(); ok && (d < 0 || d > depth) {
			t.Errorf("bore %s: level %v m in a hole of %v m", b.Code, d, depth)
		}
	}
}

// Ten regions: 10 to 25 % of their bores are dry or refused, and most of the rest give
// water. The shares are what the demo was made for.
func TestOutcomeShares(t *testing.T) {
	for seed := uint64(1); seed <= 10; seed++ {
		counts := map[geo.Outcome]int{}
		for _, b := range demoland.New(seed).Records().Bores {
			counts[b.Outcome]++
		}
		if failed := counts[geo.Dry] + counts[geo.Refused]; failed < 40 || failed > 100 {
			t.Errorf("seed %d: %d of 400 bores are dry or refused", seed, failed)
		}
		if good := counts[geo.Producing]; good < 200 || good > 320 {
			t.Errorf("seed %d: %d of 400 bores produce", seed, good)
		}
	}
}

// Bores stand where people expected water: lower than the land.
func TestBoresAreSurvivors(t *testing.T) {
	for _, l := range lands() {
		var bores, land []float64
		for _, b := range l.Records().Bores {
			bores = append(bores, l.Terrain(b.Position.Or(coord.Reading{}).Pos).AboveDrainageM)
		}
		for _, p := range l.UniformSites(400, 1) {
			land = append(land, l.Terrain(p).AboveDrainageM)
		}
		if median(bores) > 0.6*median(land) {
			t.Errorf("bores stand %.1f m above drainage, the land %.1f m", median(bores), median(land))
		}
	}
}

func TestRecordsAreTheSameEachTime(t *testing.T) {
	a, b := demoland.New(4).Records(), demoland.New(4).Records()
	if !reflect.DeepEqual(a, b) {
		t.Error("the same seed gave other records")
	}
	if reflect.DeepEqual(a.Villages[0], demoland.New(5).Records().Villages[0]) {
		t.Error("another seed gave the same village")
	}
}
