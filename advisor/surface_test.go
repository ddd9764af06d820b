package advisor_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/terrain"
)

// A surface says what the advice says: the chance within 0.02, the low and the bores
// exactly. The long run asks at 500 places of each of six surveyed trial regions and of the demo, 1.
func TestSurfaceIsTheAdvice(t *testing.T) {
	if os.Getenv("WATERSTRIKE_LONG") == "" {
		surfaceIsTheAdvice(t, newAdvisor(t, region(t, 200)), lattice(12))
		return
	}
	for _, seed := range []uint64{11, 12, 13, 14, 15, 16, 1} {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			land := demoland.New(seed)
			surfaceIsTheAdvice(t, surveyed(t, land), land.UniformSites(500, 1))
		})
	}
}

func surfaceIsTheAdvice(t *testing.T, a *advisor.Advisor, at []coord.LonLat) {
	full := make([]advisor.Advice, len(at))
	for i, p := range at {
		var err error
		if full[i], err = a.Advise(t.Context(), advisor.Question{At: p, Seed: 3}); err != nil {
			t.Fatal(err)
		}
	}
	for _, code := range []geo.Method{"", "percussion"} {
		spots, err := a.Surface(t.Context(), advisor.SurfaceQuestion{At: at, Method: code, Seed: 3}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var off, lo, hi []float64
		for i, p := range at {
			full := &full[i]
			said, ok := spots[i].Chance.Get()
			m := chanceBy(*full, spots[i].Method)
			if !ok || code != "" && spots[i].Method != code {
				t.Fatalf("at %v: %+v", p, spots[i])
			}
			if said.Lo > said.Value || said.Hi < said.Value {
				t.Errorf("at %v: a chance of %+v", p, said)
			}
			if low, want := spots[i].DesignLowM.Or(advisor.Spread{}), full.Water.DesignLow; low != (advisor.Spread{Value: want.P50, Lo: want.P10, Hi: want.P90}) {
				t.Errorf("at %v: a low of %+v, the advice has %+v", p, low, want)
			}
			if spots[i].Bores != (advisor.BoresNear{ForWater: full.Evidence.ForWater, ForLayers: full.Evidence.ForLayers}) {
				t.Errorf("at %v: %+v", p, spots[i].Bores)
			}
			best := full.Methods[0].Chance
			if code == "" && best-m.Chance > 0.02 {
				t.Errorf("at %v: %s with %.3f is not the best, %.3f", p, m.Method, m.Chance, best)
			}
			off, lo, hi = append(off, math.Abs(said.Value-m.Chance)), append(lo, math.Abs(said.Lo-m.Lo)), append(hi, math.Abs(said.Hi-m.Hi))
		}
		for _, list := range [][]float64{off, lo, hi} {
			slices.Sort(list)
		}
		n := len(off)
		t.Logf("%q: %d places, off by %.4f in the middle, %.4f at 99 of 100, %.4f at most; ends of the range by %.3f and %.3f in the middle",
			code, n, off[n/2], off[n*99/100], off[n-1], lo[n/2], hi[n/2])
		// The advice's own range is that of 64 members: its ends wander by some hundredths.
		if off[n-1] > 0.02 || lo[n/2] > 0.05 || hi[n/2] > 0.05 {
			t.Errorf("%q: off by %.4f, ends by %.3f and %.3f", code, off[n-1], lo[n/2], hi[n/2])
		}
	}
}

// lattice is n by n places over the region, its edges and a strip beyond included.
func lattice(n int) (out []coord.LonLat) {
	for i := range n * n {
		at := func(k int) float64 { return -0.02 + 0.44*float64(k)/float64(n-1) }
		out = append(out, coord.LonLat{Lon: at(i % n), Lat: at(i / n)})
	}
	return out
}

func chanceBy(a advisor.Advice, code geo.Method) advisor.MethodChance {
	i := slices.IndexFunc(a.Methods, func(m advisor.MethodChance) bool { return m.Method == code })
	return a.Methods[i]
}

// surveyed is an advisor on an invented region with its elevations.
func surveyed(t testing.TB, land *demoland.Land) *advisor.Advisor {
	t.Helper()
	records := land.Records().Bores
	s, err := evidence.Load(t.Context(), &memory{bores: records, seq: int64(len(records))})
	if err != nil {
		t.Fatal(err)
	}
	grid, err := land.Grid(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	shape, err := terrain.Derive(t.Context(), grid, terrain.Defaults(), nil)
	if err != nil {
		t.Fatal(err)
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	a, err := advisor.New(t.Context(), s.On(shape), rules, "test")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// How deep the ground lets a method go is read off a region that a person can judge: the
// upland has 1 m of soil over 3 to 4 m of crust, which no auger passes, and a percussion
// rig passes a metre or two of it.
func TestSurfaceOfRefusal(t *testing.T) {
	a := newAdvisor(t, region(t, 200))
	upland := []coord.LonLat{{Lon: 0.33, Lat: 0.2}}
	for code, want := range map[geo.Method][2]float64{"auger": {1, 1}, "percussion": {1.5, 4}} {
		spots, err := a.Surface(t.Context(), advisor.SurfaceQuestion{At: upland, Method: code, Seed: 1}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r := spots[0].RefusalM.Or(advisor.Spread{}); r.Value < want[0] || r.Value > want[1] || r.Lo > r.Value || r.Hi < r.Value {
			t.Errorf("%s: refused at %+v m, want %v", code, r, want)
		}
	}
}

// Many places at once are those places one by one; a surface can be stopped.
func TestSurfaceConcurrent(t *testing.T) {
	a, at := newAdvisor(t, region(t, 60)), lattice(5)
	at = append(at, coord.LonLat{Lon: 500})
	told := 0
	all, err := a.Surface(t.Context(), advisor.SurfaceQuestion{At: at, Seed: 1}, func(done, total int) {
		if told++; done != told || total != len(at) {
			t.Errorf("told of %d of %d after %d", done, total, told)
		}
	})
	if err != nil || told != len(at) {
		t.Fatal(told, err)
	}
	for i, p := range at {
		one, err := a.Surface(t.Context(), advisor.SurfaceQuestion{At: []coord.LonLat{p}, Seed: 1}, nil)
		if err != nil || one[0] != all[i] {
			t.Errorf("at %v: %+v alone, %+v among others, %v", p, one[0], all[i], err)
		}
	}
	if last := all[len(at)-1]; last != (advisor.Spot{}) {
		t.Errorf("off the globe: %+v", last)
	}
	ctx, stop := context.WithCancel(t.Context())
	_, err = a.Surface(ctx, advisor.SurfaceQuestion{At: at}, func(int, int) { stop() })
	if !errors.Is(err, context.Canceled) {
		t.Error("stopped:", err)
	}
}

// Without evidence a surface says nothing, and says so.
func TestSurfaceWithoutEvidence(t *testing.T) {
	nothing := newAdvisor(t, &memory{})
	if _, err := nothing.Surface(t.Context(), advisor.SurfaceQuestion{At: lattice(2)}, nil); geo.KindOf(err) != geo.NotFound {
		t.Error("no bores:", err)
	}
	few := newAdvisor(t, region(t, 1))
	spots, err := few.Surface(t.Context(), advisor.SurfaceQuestion{At: lattice(2)}, nil)
	if err != nil || spots[0].Chance.Known() || spots[0].DesignLowM.Known() {
		t.Errorf("one bore: %+v, %v", spots, err)
	}
	if _, err := few.Surface(t.Context(), advisor.SurfaceQuestion{At: lattice(2), Method: "spade"}, nil); geo.KindOf(err) != geo.NotFound {
		t.Error("no such method:", err)
	}
}

// BenchmarkSurface is 60 by 60 km in cells of 500 m, by one method to be done within 8 s on
// two cores. Its baseline is the whole advice at one place.
func BenchmarkSurface(b *testing.B) {
	a := surveyed(b, demoland.New(11))
	var at []coord.LonLat
	const side, step = 120, 0.5 / 111.2
	for i := range side * side {
		at = append(at, coord.LonLat{Lon: step * (float64(i%side) - side/2), Lat: step * (float64(i/side) - side/2)})
	}
	for name, code := range map[string]geo.Method{"one method": "percussion", "best method": ""} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				began := time.Now()
				if _, err := a.Surface(b.Context(), advisor.SurfaceQuestion{At: at, Method: code, Seed: 1}, nil); err != nil {
					b.Fatal(err)
				}
				took := time.Since(began)
				b.ReportMetric(took.Seconds()*1e3/side/side, "ms/place")
				if code != "" && took > 8*time.Second && runtime.GOMAXPROCS(0) >= 2 {
					b.Errorf("a surface of %d places takes %v", len(at), took)
				}
			}
		})
	}
	b.Run("advice", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			if _, err := a.Advise(b.Context(), advisor.Question{At: at[i*37%len(at)], Seed: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
