package hydraulics_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
	"waterstrike/geo/soil"

	"gonum.org/v1/gonum/mat"
)

// field is a region of 300 tests of weathered rock whose log10 K goes together over 800 m:
// exponential, half a decade, four fifths of the variance in common. Drawn by the Cholesky
// factor of gonum.
func field(t *testing.T) []hydraulics.Placed {
	t.Helper()
	const n, rangeM, share, sd, noise = 300, 800, 0.8, 0.42, 0.2
	rng := rand.New(rand.NewPCG(83, 84))
	bores := make([]hydraulics.Placed, n)
	for i := range bores {
		bores[i].X, bores[i].Y = 12000*rng.Float64(), 12000*rng.Float64()
	}
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			cov.SetSym(i, j, share*sd*sd*math.Exp(-math.Hypot(bores[i].X-bores[j].X, bores[i].Y-bores[j].Y)/rangeM))
		}
		cov.SetSym(i, i, sd*sd+noise*noise)
	}
	var c mat.Cholesky
	if !c.Factorize(cov) {
		t.Fatal("no covariance")
	}
	var l mat.TriDense
	c.LTo(&l)
	z := mat.NewVecDense(n, nil)
	for i := range n {
		z.SetVec(i, rng.NormFloat64())
	}
	z.MulVec(&l, z)
	k := soil.ConductivityOf(soil.WeatheredRock, soil.GradeUnknown, false).MetresPerDay()
	for i := range bores {
		bores[i].Tested = testOf(3*k*math.Pow(10, z.AtVec(i)), noise, material(soil.WeatheredRock, soil.GradeUnknown), 3)
	}
	return bores
}

func learnt(t *testing.T, bores []hydraulics.Placed) *hydraulics.Conductivities {
	t.Helper()
	var all []hydraulics.Tested
	for _, b := range bores {
		all = append(all, b.Tested)
	}
	c := must[*hydraulics.Conductivities](t)(hydraulics.Learn(all))
	c.Relate(bores)
	return c
}

// The range that the region was drawn with is found to within one step of what is tried,
// and none where the bores are dealt out anew.
func TestRelateFindsTheRange(t *testing.T) {
	bores := field(t)
	sands, rocks := learnt(t, bores).Alike()
	if rocks.RangeM < 500 || rocks.RangeM > 2000 || rocks.Share < 0.6 || rocks.Bores < 250 || sands.Share != 0 {
		t.Errorf("rocks %+v, sands %+v", rocks, sands)
	}
	rng := rand.New(rand.NewPCG(85, 86))
	rng.Shuffle(len(bores), func(i, j int) { bores[i].Tested, bores[j].Tested = bores[j].Tested, bores[i].Tested })
	if _, rocks := learnt(t, bores).Alike(); rocks.Share != 0 {
		t.Errorf("dealt out anew: %+v", rocks)
	}
}

// Left out one at a time, tests are foretold better with their neighbours than by the
// region, by about as much as is said; far away nothing is said but of the region.
func TestNearForetells(t *testing.T) {
	bores := field(t)
	c := learnt(t, bores)
	region := c.Of(soil.WeatheredRock, soil.GradeUnknown, false)
	var here, anywhere, said float64
	for i, b := range bores {
		others := append(append([]hydraulics.Placed(nil), bores[:i]...), bores[i+1:]...)
		by := c.Near(others, b.X, b.Y).Of(soil.WeatheredRock, soil.GradeUnknown, false)
		found := math.Log10(b.T.Value / 3 / 86400)
		here += math.Pow(found-by.Log10MPerS, 2)
		anywhere += math.Pow(found-region.Log10MPerS, 2)
		said += by.SDDecades*by.SDDecades + b.T.Decades*b.T.Decades
	}
	if ratio := here / anywhere; ratio > 0.8 {
		t.Errorf("neighbours leave %.2f of the squared error", ratio)
	}
	if ratio := said / here; ratio < 0.8 || ratio > 1.25 {
		t.Errorf("the variance said is %.2f of that found", ratio)
	}
	if far := c.Near(bores, 1e6, 0).Of(soil.WeatheredRock, soil.GradeUnknown, false); far != region {
		t.Errorf("far away %+v, in the region %+v", far, region)
	}
	if clay := c.Near(bores, bores[0].X, bores[0].Y).Of(soil.Clay, soil.GradeUnknown, false); clay != c.Of(soil.Clay, soil.GradeUnknown, false) {
		t.Errorf("clay is no kin: %+v", clay)
	}
}

// Simple kriging of two readings by hand: the solution of gonum of the same system.
func TestNearAgainstMatrices(t *testing.T) {
	bores := field(t)
	c := learnt(t, bores)
	_, alike := c.Alike()
	region := c.Of(soil.WeatheredRock, soil.GradeUnknown, false)
	layer := region.SDDecades*region.SDDecades - region.MeanSDDecades*region.MeanSDDecades
	mean := region.MeanSDDecades * region.MeanSDDecades
	two := []hydraulics.Placed{bores[0], bores[1]}
	two[0].X, two[0].Y, two[1].X, two[1].Y = 100, 0, 0, 300
	off := mat.NewVecDense(2, nil)
	for i := range two { // close to the mean, where a wrong record is hardly likely
		at := region.Log10MPerS + []float64{0.2, 0.1}[i]
		two[i].T.Value, two[i].T.Decades = 3*86400*math.Pow(10, at), 0.2
		off.SetVec(i, at-region.Log10MPerS)
	}
	like := func(m float64) float64 { return mean + alike.Share*layer*math.Exp(-m/alike.RangeM) }
	a := mat.NewSymDense(2, []float64{mean + layer + 0.04, like(math.Hypot(100, 300)), 0, mean + layer + 0.04})
	to := mat.NewVecDense(2, []float64{like(100), like(300)})
	var w mat.VecDense
	if err := w.SolveVec(a, to); err != nil {
		t.Fatal(err)
	}
	by := c.Near(two, 0, 0).Of(soil.WeatheredRock, soil.GradeUnknown, false)
	// One record in ten may be wrong, which pulls towards the region by a few per cent.
	near(t, "mean", by.Log10MPerS-region.Log10MPerS, mat.Dot(&w, off), 0.02)
	near(t, "sd", by.SDDecades, math.Sqrt(mean+layer-mat.Dot(&w, to)), 0.02)
}

// A bore that gave 0.4 L/s with 7 m of water over its pump says of T what that takes at
// 75 % efficiency in an hour: by Cooper and Jacob, worked anew by bisection here.
func TestReports(t *testing.T) {
	assumed := hydraulics.DefaultAssumed()
	b := tested()
	b.DepthM, b.YieldLPS, b.Outcome = geo.Some(13.0), geo.Some(0.4), geo.Producing
	needed := func(lps, metres float64) float64 {
		lo, hi := 1e-4, 1e4
		for range 200 {
			mid := math.Sqrt(lo * hi)
			s := lps * 86.4 / (4 * math.Pi * mid) * math.Log(max(2.25*mid/24/(0.075*0.075*0.05), 11.25)) / 0.75
			if s > metres {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	for name, c := range map[string]struct {
		change func(*geo.Bore)
		restM  float64
		how    hydraulics.Saying
		lps    float64
		water  float64
	}{
		"as it is":                         {func(*geo.Bore) {}, 5, hydraulics.Reported, 0.4, 7},
		"too little":                       {func(b *geo.Bore) { b.Outcome, b.YieldLPS = geo.LowYield, geo.Some(0.05) }, 5, hydraulics.Measured, 0.05, 7},
		"works":                            {func(b *geo.Bore) { b.YieldLPS = geo.Opt[float64]{} }, 5, hydraulics.AtLeast, 7.6 / 60, 7},
		"works too little":                 {func(b *geo.Bore) { b.YieldLPS, b.Outcome = geo.Opt[float64]{}, geo.LowYield }, 5, hydraulics.AtMost, 7.6 / 60, 7},
		"of unknown outcome":               {func(b *geo.Bore) { b.Outcome = geo.OutcomeUnknown }, 5, hydraulics.Reported, 0.4, 7},
		"nobody wrote where its screen is": {func(b *geo.Bore) { b.Pipes = nil }, 5, hydraulics.Reported, 0.4, 7},
	} {
		bore := b
		c.change(&bore)
		got, ok := hydraulics.Reports(bore, c.restM, assumed)
		if !ok || got.How != c.how || len(got.Open) != 1 || math.Abs(got.Open[0].ThickM-3) > 1e-9 {
			t.Errorf("%s: %+v, %v", name, got, ok)
			continue
		}
		if want := needed(c.lps, c.water); math.Abs(got.T.Value/want-1) > 1e-5 {
			t.Errorf("%s: T %v, want %v", name, got.T.Value, want)
		}
	}
	dry, bare, high, deep := b, b, b, b
	dry.Outcome, dry.YieldLPS = geo.Dry, geo.Opt[float64]{}
	bare.Layers = nil
	deep.DepthM = geo.Opt[float64]{}
	for name, c := range map[string]struct {
		bore  geo.Bore
		restM float64
	}{"dry": {dry, 5}, "no layers": {bare, 5}, "water at its bottom": {high, 12.5}, "no depth": {deep, 5}} {
		if got, ok := hydraulics.Reports(c.bore, c.restM, assumed); ok {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
