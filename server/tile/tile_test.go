package tile_test

import (
	"math/rand/v2"
	"strconv"
	"testing"
	"time"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/tile"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/maptile"
)

// scattered invents n bores over about 110 by 110 km, four in five of them about towns.
func scattered(n int) []*evidence.Bore {
	rng := rand.New(rand.NewPCG(9, 9))
	out := make([]*evidence.Bore, n)
	store := make([]evidence.Bore, n)
	methods := []geo.Method{"auger", "sludging", "jetting", geo.MethodUnknown}
	for i := range out {
		at := coord.LonLat{Lon: rng.Float64(), Lat: rng.Float64() - 0.5}
		if i%5 != 0 {
			at = coord.LonLat{Lon: float64(i%40)/40 + 0.004*rng.NormFloat64(), Lat: float64(i%37)/37 - 0.5 + 0.004*rng.NormFloat64()}
		}
		store[i] = evidence.Bore{
			ID: geo.BoreID(strconv.Itoa(i)), Pos: at, Label: "B-" + strconv.Itoa(i), Method: methods[rng.IntN(len(methods))],
			Outcome: geo.Outcomes()[rng.IntN(8)], DepthM: geo.Some(float64(rng.IntN(40))),
		}
		if rng.IntN(10) > 0 {
			store[i].Completed = geo.Date{Year: 1990 + rng.IntN(35), Month: 1 + rng.IntN(12)}
		}
		out[i] = &store[i]
	}
	return out
}

// counted adds up what a tile tells: by outcome and in all.
func counted(t *testing.T, layers mvt.Layers) (by map[geo.Outcome]int, n int) {
	t.Helper()
	by = map[geo.Outcome]int{}
	for _, l := range layers {
		for _, f := range l.Features {
			if l.Name == "bores" {
				by[geo.Outcome(f.Properties.MustString("outcome"))]++
				n++
				continue
			}
			n += int(f.Properties.MustFloat64("n"))
			for _, o := range geo.Outcomes() {
				by[o] += int(f.Properties.MustFloat64(string(o), 0))
			}
		}
	}
	return by, n
}

// encoded is a tile as it is sent, read back by the library's own reader.
func encoded(t *testing.T, layers mvt.Layers) (mvt.Layers, int) {
	t.Helper()
	body, err := mvt.Marshal(layers)
	if err != nil {
		t.Fatal(err)
	}
	back, err := mvt.Unmarshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return back, len(body)
}

// At every zoom the tiles together tell each bore once, whatever is filtered; counted
// beside them by going through the list.
func TestTilesAddUp(t *testing.T) {
	list := scattered(20_000)
	bores := tile.NewBores(list)
	filters := map[string]tile.Filter{
		"all": {}, "dry": {Outcomes: []geo.Outcome{geo.Dry, geo.Refused}}, "augered": {Methods: []geo.Method{"auger"}},
		"young": {FromYear: 2010, ToYear: 2015}, "deep": {LeastM: geo.Some(20.0), MostM: geo.Some(30.0)},
	}
	for name, f := range filters {
		want := map[geo.Outcome]int{}
		for _, b := range list {
			young := b.Completed.Year >= 2010 && b.Completed.Year <= 2015
			depth := b.DepthM.Or(-1)
			switch {
			case name == "dry" && b.Outcome != geo.Dry && b.Outcome != geo.Refused, name == "augered" && b.Method != "auger",
				name == "young" && !young, name == "deep" && (depth < 20 || depth > 30):
			default:
				want[b.Outcome]++
			}
		}
		for z := range maptile.Zoom(12) {
			got := map[geo.Outcome]int{}
			low, high := maptile.At(orb.Point{-0.1, 0.6}, z), maptile.At(orb.Point{1.1, -0.6}, z)
			for x := low.X; x <= high.X; x++ {
				for y := low.Y; y <= high.Y; y++ {
					back, size := encoded(t, bores.Layers(maptile.New(x, y, z), f))
					if size > 200_000 {
						t.Errorf("%s, zoom %d: a tile of %d bytes", name, z, size)
					}
					by, _ := counted(t, back)
					for o, n := range by {
						got[o] += n
					}
				}
			}
			for _, o := range geo.Outcomes() {
				if got[o] != want[o] {
					t.Fatalf("%s, zoom %d: %d %s, want %d", name, z, got[o], o, want[o])
				}
			}
		}
	}
}

// A single bore lies where the library's own projection puts it, and carries its year.
func TestBoreIsInItsPlace(t *testing.T) {
	at := coord.LonLat{Lon: 0.1234, Lat: -0.4321}
	bores := tile.NewBores([]*evidence.Bore{{ID: "a", Pos: at, Outcome: geo.Dry, Completed: geo.Date{Year: 2004}}})
	for z := range maptile.Zoom(tile.Deepest + 1) {
		address := maptile.At(at.Point(), z)
		back, _ := encoded(t, bores.Layers(address, tile.Filter{}))
		if len(back) != 1 || len(back[0].Features) != 1 {
			t.Fatalf("zoom %d: %v", z, back)
		}
		f := back[0].Features[0]
		back.ProjectToWGS84(address)
		got := f.Geometry.(orb.Point)
		step := 360 / float64(uint64(1)<<z) / 4096
		if dx, dy := got[0]-at.Lon, got[1]-at.Lat; dx*dx+dy*dy > 2*step*step {
			t.Errorf("zoom %d: at %v, want %v within %v", z, got, at, step)
		}
		if f.Properties.MustFloat64("year") != 2004 || f.Properties.MustString("outcome") != "dry" {
			t.Errorf("zoom %d: %v", z, f.Properties)
		}
	}
}

// The list tells the newest first, in pages that join without a gap, and counts as the
// tiles do.
func TestList(t *testing.T) {
	bores := tile.NewBores(scattered(3000))
	f := tile.Filter{Outcomes: []geo.Outcome{geo.Producing}}
	box := orb.Bound{Min: orb.Point{0.2, -0.3}, Max: orb.Point{0.8, 0.2}}
	whole, total := bores.List(f, box, 0, 3000)
	if total == 0 || len(whole) != total {
		t.Fatalf("%d of %d", len(whole), total)
	}
	for i, b := range whole {
		if b.Outcome != geo.Producing || !box.Contains(b.Pos.Point()) {
			t.Fatalf("%v does not belong", b)
		}
		if i > 0 && b.Completed.Year > whole[i-1].Completed.Year {
			t.Fatalf("%v comes after %v", b.Completed, whole[i-1].Completed)
		}
	}
	page, again := bores.List(f, box, 50, 25)
	if again != total || len(page) != 25 || page[0] != whole[50] {
		t.Errorf("a page of %d of %d", len(page), again)
	}
	if past, _ := bores.List(f, box, total, 25); len(past) != 0 {
		t.Errorf("%d past the end", len(past))
	}
}

func TestAddress(t *testing.T) {
	if _, err := tile.Address(3, 7, 7); err != nil {
		t.Error(err)
	}
	for _, wrong := range [][3]int{{-1, 0, 0}, {15, 0, 0}, {3, 8, 0}, {3, 0, 8}, {3, -1, 0}} {
		if _, err := tile.Address(wrong[0], wrong[1], wrong[2]); geo.KindOf(err) != geo.NotFound {
			t.Errorf("%v: %v", wrong, err)
		}
	}
}

// BenchmarkTiles cuts 500 tiles of zooms 4 to 14 of a million bores, none of them twice,
// and tells the time that nineteen in twenty stay within and the largest in bytes. The
// baseline goes through all bores for each tile.
func BenchmarkTiles(b *testing.B) {
	list := scattered(1_000_000)
	begun := time.Now()
	bores := tile.NewBores(list)
	b.ReportMetric(time.Since(begun).Seconds(), "s/arranging")
	rng := rand.New(rand.NewPCG(4, 2))
	var addresses []maptile.Tile
	for i := range 500 {
		at := list[rng.IntN(len(list))].Pos.Point()
		addresses = append(addresses, maptile.At(at, maptile.Zoom(4+i%11)))
	}
	for name, f := range map[string]tile.Filter{"arranged": {}, "filtered": {Outcomes: []geo.Outcome{geo.Dry}, FromYear: 2000}} {
		b.Run(name, func(b *testing.B) {
			var took []time.Duration
			largest := 0
			for range b.N {
				for _, a := range addresses {
					begun := time.Now()
					body, err := mvt.Marshal(bores.Layers(a, f))
					if err != nil {
						b.Fatal(err)
					}
					took, largest = append(took, time.Since(begun)), max(largest, len(body))
				}
			}
			b.ReportMetric(share(took, 0.95), "ms/p95")
			b.ReportMetric(share(took, 1), "ms/most")
			b.ReportMetric(float64(largest), "bytes/largest")
		})
	}
	b.Run("all for each", func(b *testing.B) {
		var took []time.Duration
		for range b.N {
			for _, a := range addresses[:22] {
				begun := time.Now()
				box, n := a.Bound(), 0
				for _, bore := range list {
					if box.Contains(bore.Pos.Point()) {
						n++
					}
				}
				took = append(took, time.Since(begun))
			}
		}
		b.ReportMetric(share(took, 0.95), "ms/p95")
	})
}
