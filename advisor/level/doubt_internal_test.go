package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

// scattered is a fitting of readings about 8 m with a known likeness, whose scatter beyond
// it grows where their land is unusual.
func scattered(t *testing.T, n int, wider doubt, known bool) *fitting {
	t.Helper()
	rng := rand.New(rand.NewPCG(uint64(n), 77))
	var obs []Observation
	for range n {
		o := Observation{At: variogram.XY{X: 20000 * rng.Float64(), Y: 20000 * rng.Float64()}, DepthM: 8, On: geo.Date{Month: 5}}
		o.Land.known = known
		for k := range o.Land.terms {
			o.Land.terms[k] = rng.NormFloat64()
		}
		obs = append(obs, o)
	}
	structure, err := variogram.NewExponential(0.1, 2000)
	if err != nil {
		t.Fatal(err)
	}
	f := newFitting(obs, DefaultSeason(1))
	f.structure, f.trend = structure, newTrend(f.lands)
	terms := len(f.trend.row(Land{}))
	f.trend.b, f.trend.priors = make([]float64, terms), make([]float64, terms)
	f.carry()
	field := f.draw(f.points, 1, rng)
	for i := range f.values {
		f.values[i] = 2 + math.Sqrt(wider.at(f.trend.unusual(f.lands[i])))*field[i][0] + math.Sqrt(f.errVars[i])*rng.NormFloat64()
	}
	return f
}

// What the closed form says of a block is what kriging says that has never seen it.
func TestBlocksLeftOut(t *testing.T) {
	f := scattered(t, 60, doubt{}, false)
	off, variance, err := f.blocksLeftOut()
	if err != nil {
		t.Fatal(err)
	}
	solver, err := krige.NewSolver(f.structure, krige.Ordinary{})
	if err != nil {
		t.Fatal(err)
	}
	all := f.data()
	for _, block := range f.blocks() {
		hidden := map[int]bool{}
		for _, i := range block {
			hidden[i] = true
		}
		var rest []krige.Datum
		for i, d := range all {
			if !hidden[i] {
				d.Drift = nil
				rest = append(rest, d)
			}
		}
		if err := solver.Fit(rest); err != nil {
			t.Fatal(err)
		}
		for _, i := range block {
			said, err := solver.Predict(all[i].XY)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(f.values[i]-said.Mean-off[i]) > 1e-9 || math.Abs(said.Variance+f.errVars[i]-variance[i]) > 1e-9 {
				t.Fatalf("reading %d: off by %v with variance %v, kriged without its block %v and %v", i, off[i], variance[i], f.values[i]-said.Mean, said.Variance+f.errVars[i])
			}
		}
	}
}

// Scatter that grows where the land is unusual is found, scatter all the same is not taken
// for it, and where no land is known only what holds for all places is asked.
func TestDoubtIsLearned(t *testing.T) {
	for _, c := range []struct {
		was   doubt
		known bool
	}{{doubt{}, true}, {doubt{0, 0.6}, true}, {doubt{0.5, 0}, true}, {doubt{-0.3, 0}, false}} {
		f := scattered(t, 400, c.was, c.known)
		if err := f.learnDoubt(); err != nil {
			t.Fatal(err)
		}
		// A variance of 400 readings is known to 7 %, less what priors and errors take.
		if math.Abs(f.doubt.all-c.was.all) > 0.25 || math.Abs(f.doubt.unusual-c.was.unusual) > 0.25 {
			t.Errorf("learnt %+v, was %+v", f.doubt, c.was)
		}
		if !c.known && (f.doubt.unusual != 0 || f.trend.unusual(f.lands[0]) != 1) {
			t.Errorf("without a known land: %+v", f.doubt)
		}
	}
}

// All readings in one square tell nothing of places without them.
func TestDoubtOfOneBlock(t *testing.T) {
	f := scattered(t, 20, doubt{}, false)
	for i := range f.points {
		f.points[i] = variogram.XY{X: 10 + float64(i), Y: 10}
		f.stated[i].At = f.points[i]
	}
	f.halfM = 1e6
	if err := f.learnDoubt(); err != nil || f.doubt != (doubt{}) {
		t.Errorf("learnt %+v (%v)", f.doubt, err)
	}
}
