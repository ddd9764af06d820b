package hydraulics_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
)

func material(c soil.Class, g soil.Grade) hydraulics.Material {
	return hydraulics.Material{Class: c, Grade: g}
}

// testOf is a test of one layer of one material.
func testOf(t2 float64, decades float64, m hydraulics.Material, thick float64) hydraulics.Tested {
	return hydraulics.Tested{T: hydraulics.Estimate{Value: t2, Decades: decades}, Open: []hydraulics.Interval{{Material: m, ThickM: thick}}}
}

// Without a test the belief is the prior, to the last digit, for every material.
func TestLearnWithoutTests(t *testing.T) {
	var nobody *hydraulics.Conductivities
	none := must[*hydraulics.Conductivities](t)(hydraulics.Learn(nil))
	for _, class := range append([]soil.Class{soil.Unknown}, func() []soil.Class { k := soil.Known(); return k[:] }()...) {
		for _, clayey := range []bool{false, true} {
			prior := soil.ConductivityOf(class, soil.Fine, clayey)
			for _, c := range []*hydraulics.Conductivities{nobody, none} {
				b := c.Of(class, soil.Fine, clayey)
				if b.Log10MPerS != prior.Log10MPerS || b.SDDecades != prior.SDDecades || b.Tests != 0 || b.MetresPerDay() != prior.MetresPerDay() {
					t.Errorf("%s: %+v, prior %+v", class, b, prior)
				}
			}
		}
	}
}

// What is learnt is Bayes' rule: 400,000 draws of mean and spread by their priors, weighed by
// how likely each made the records, have the same moments. The likelihoods are written anew
// here from the normal law: the mean of log10 K has the prior of the class with half its
// variance, the layers the other half, known to 0.35 in the logarithm of the spread; one
// record in ten says nothing, anywhere within six decades; half of the yields reported are
// all that there was, the others what a pump took within a decade and a half below that.
func TestLearnAgainstDraws(t *testing.T) {
	coarse := material(soil.Sand, soil.Coarse)
	prior := soil.ConductivityOf(soil.Sand, soil.Coarse, false)
	offs := []float64{0.9, 0.7, -0.2, 0.4}
	says := []hydraulics.Saying{hydraulics.Measured, hydraulics.AtLeast, hydraulics.AtMost, hydraulics.Reported}
	var records []hydraulics.Tested
	for i, off := range offs {
		r := testOf(44.7*3*math.Pow(10, off), 0.3, coarse, 3)
		r.How = says[i]
		records = append(records, r)
	}
	normal := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	rng := rand.New(rand.NewPCG(81, 82))
	var total, sum, square, layers float64
	for range 400_000 {
		mean := prior.SDDecades * math.Sqrt(0.5) * rng.NormFloat64()
		z := 9.0
		for math.Abs(z) > 2.25 { // as far as the grid goes
			z = rng.NormFloat64()
		}
		layer := prior.SDDecades * math.Sqrt(0.5) * math.Exp(0.35*(z-0.35))
		sd, w := math.Hypot(layer, 0.3), 1.0
		for i, off := range offs {
			z := (off - mean) / sd
			near, above := math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)/sd, normal(-z)/1.5
			w *= 0.1/6 + 0.9*[]float64{near, above, normal(z) / 1.5, near/2 + above/2}[i]
		}
		total, sum, square, layers = total+w, sum+w*mean, square+w*mean*mean, layers+w*layer*layer
	}
	mean := sum / total
	b := must[*hydraulics.Conductivities](t)(hydraulics.Learn(records)).Of(soil.Sand, soil.Coarse, false)
	// The luck of the draws is 0.002 decades, what lies between the points of the grid and
	// beyond it as much.
	near(t, "mean", b.Log10MPerS, prior.Log10MPerS+mean, 0.01)
	near(t, "sd of the mean", b.MeanSDDecades, math.Sqrt(square/total-mean*mean), 0.01)
	near(t, "sd of a layer", b.SDDecades, math.Sqrt(square/total-mean*mean+layers/total), 0.01)
	if b.Tests != len(records) {
		t.Errorf("%d records taught", b.Tests)
	}
	other := soil.ConductivityOf(soil.Sand, soil.Fine, false)
	if got := must[*hydraulics.Conductivities](t)(hydraulics.Learn(records)).Of(soil.Sand, soil.Fine, false); got.Log10MPerS != other.Log10MPerS {
		t.Errorf("fine sand moved to %+v", got)
	}
}

// Bores that gave what a pump took say that the ground is no worse than that, those that
// gave too little that it is no better; many that gave as much as they could tell the mean.
func TestLearnFromYields(t *testing.T) {
	prior := soil.ConductivityOf(soil.WeatheredRock, soil.GradeUnknown, false)
	mean := func(how hydraulics.Saying, off float64, n int) float64 {
		r := testOf(prior.MetresPerDay()*3*math.Pow(10, off), 0.3, material(soil.WeatheredRock, soil.GradeUnknown), 3)
		r.How = how
		all := make([]hydraulics.Tested, n)
		for i := range all {
			all[i] = r
		}
		return must[*hydraulics.Conductivities](t)(hydraulics.Learn(all)).Of(soil.WeatheredRock, soil.GradeUnknown, false).Log10MPerS - prior.Log10MPerS
	}
	for _, off := range []float64{-1, 0, 0.5} {
		atLeast, atMost, reported := mean(hydraulics.AtLeast, off, 20), mean(hydraulics.AtMost, off, 20), mean(hydraulics.Reported, off, 20)
		if !(atLeast > 0 && atMost < 0 && atMost < reported && reported < atLeast+0.2) {
			t.Errorf("%+.1f decades: at least %+.2f, at most %+.2f, reported %+.2f", off, atLeast, atMost, reported)
		}
	}
	if few, many := mean(hydraulics.AtLeast, 0.3, 1), mean(hydraulics.AtLeast, 0.3, 30); few >= many {
		t.Errorf("one bore moves the region by %.2f, thirty by %.2f", few, many)
	}
	if off := mean(hydraulics.AtLeast, -3, 30); math.Abs(off) > 0.02 { // what all ground gives tells nothing
		t.Errorf("thirty trickles move the region by %.2f", off)
	}
}

// Many tests of a region whose sand is half a decade better than usual find that; however
// many, the next layer is still not known better than layers differ.
func TestLearnFindsTheRegion(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	prior := soil.ConductivityOf(soil.Sand, soil.Medium, false)
	truth := prior.Log10MPerS + 0.5
	within := prior.SDDecades * math.Sqrt(0.5)
	last := math.Inf(1)
	for _, n := range []int{1, 5, 50, 500} {
		var tests []hydraulics.Tested
		for range n {
			thick := 1 + 4*rng.Float64()
			k := math.Pow(10, truth+within*rng.NormFloat64()+0.3*rng.NormFloat64()) * 86400
			tests = append(tests, testOf(k*thick, 0.3, material(soil.Sand, soil.Medium), thick))
		}
		b := must[*hydraulics.Conductivities](t)(hydraulics.Learn(tests)).Of(soil.Sand, soil.Medium, false)
		if math.Abs(b.Log10MPerS-truth) > 3*b.MeanSDDecades {
			t.Errorf("%d tests: %.2f ± %.2f, truth %.2f", n, b.Log10MPerS, b.MeanSDDecades, truth)
		}
		if b.MeanSDDecades >= last || b.SDDecades < 0.8*within || b.SDDecades > prior.SDDecades {
			t.Errorf("%d tests: %+v", n, b)
		}
		last = b.MeanSDDecades
	}
}

// A sand beside clay is a test of the sand; two sands side by side are a test of neither.
func TestLearnMixed(t *testing.T) {
	sand, clay, gravel := material(soil.Sand, soil.Coarse), material(soil.Clay, soil.GradeUnknown), material(soil.Gravel, soil.GradeUnknown)
	beside := hydraulics.Tested{T: hydraulics.Estimate{Value: 90, Decades: 0.2}, Open: []hydraulics.Interval{{Material: clay, ThickM: 2}, {Material: sand, ThickM: 2}}}
	two := hydraulics.Tested{T: hydraulics.Estimate{Value: 90, Decades: 0.2}, Open: []hydraulics.Interval{{Material: sand, ThickM: 6}, {Material: gravel, ThickM: 1}}}
	c := must[*hydraulics.Conductivities](t)(hydraulics.Learn([]hydraulics.Tested{beside, two, {T: two.T}}))
	if b := c.Of(soil.Sand, soil.Coarse, false); b.Tests != 1 || c.Mixed() != 2 {
		t.Errorf("%+v, %d mixed", b, c.Mixed())
	}
	if b := c.Of(soil.Clay, soil.GradeUnknown, false); b.Tests != 0 {
		t.Errorf("clay learnt: %+v", b)
	}
	if _, err := hydraulics.Learn([]hydraulics.Tested{testOf(0, 0.1, sand, 1)}); !errors.Is(err, hydraulics.ErrDomain) {
		t.Errorf("T of 0: %v", err)
	}
	if _, err := hydraulics.Learn([]hydraulics.Tested{testOf(1, 0.1, sand, -1)}); !errors.Is(err, hydraulics.ErrDomain) {
		t.Errorf("thickness below 0: %v", err)
	}
}

// A clay that gives like a sand is no clay: the record is wrong, and clay is left alone.
func TestLearnAtOdds(t *testing.T) {
	c := must[*hydraulics.Conductivities](t)(hydraulics.Learn([]hydraulics.Tested{testOf(5, 0.3, material(soil.Clay, soil.GradeUnknown), 3)}))
	if b := c.Of(soil.Clay, soil.GradeUnknown, false); b.Tests != 0 || c.AtOdds() != 1 {
		t.Errorf("%+v, %d at odds", b, c.AtOdds())
	}
}

// tested is a bore with 3 m of screen in 5 m of coarse sand, the water at 6 m.
func tested(tests ...geo.PumpTest) geo.Bore {
	return geo.Bore{
		Layers: []geo.Layer{
			{TopM: 0, BaseM: 8, Class: soil.Clay},
			{TopM: 8, BaseM: 13, Class: soil.Sand, Grade: soil.Coarse},
		},
		Pipes: []geo.Pipe{
			{Kind: geo.Casing, TopM: 0, BaseM: 9.5, DiameterMM: geo.Some(110.0)},
			{Kind: geo.Screen, TopM: 9.5, BaseM: 12.5, DiameterMM: geo.Some(110.0)},
		},
		Tests: tests,
	}
}

func TestEvidence(t *testing.T) {
	bail := hydraulics.Bailed{Well: hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.055}, VolumeL: 200, Minutes: 10}
	rise := must[hydraulics.Rise](t)(hydraulics.Bail(hydraulics.Aquifer{TM2D: 2, Storage: 1e-3}, bail))
	b := tested(
		geo.PumpTest{Kind: geo.ConstantRate, RateLPS: geo.Some(0.3), Hours: geo.Some(4.0), RestM: geo.Some(6.0), PumpingM: geo.Some(6.4)},
		geo.PumpTest{Kind: geo.BailerTest, BailL: geo.Some(200.0), HalfMin: geo.Some(rise.HalfMin), ThreeQMin: geo.Some(rise.ThreeQMin)},
		geo.PumpTest{Kind: geo.ConstantRate, RateLPS: geo.Some(0.3)},
		geo.PumpTest{Kind: geo.StepTest, RateLPS: geo.Some(0.3)},
		geo.PumpTest{Kind: geo.BailerTest},
	)
	found := hydraulics.Evidence(b, hydraulics.DefaultAssumed())
	if len(found) != 2 {
		t.Fatalf("%d of five tests say something, want 2: %+v", len(found), found)
	}
	for _, f := range found {
		if len(f.Open) != 1 || f.Open[0].Class != soil.Sand || math.Abs(f.Open[0].ThickM-3) > 1e-12 {
			t.Errorf("opened %+v, want 3 m of sand", f.Open)
		}
	}
	s := must[float64](t)(hydraulics.Drawdown(hydraulics.Duty{DischargeM3D: 0.3 * 86.4, Days: 4.0 / 24, Storage: 0.05, RadiusM: 0.075, Efficiency: 0.75}, found[0].T.Value, 3, 3))
	near(t, "drawdown of the T found", s, 0.4, 1e-8) // the bisection
	if !found[1].T.Holds(2) {
		t.Errorf("by bailing %+v, made with 2", found[1].T)
	}
}

// Readings are worth more than their end: a line leaves the losses of the well aside.
func TestEvidenceOfReadings(t *testing.T) {
	a, w := hydraulics.Aquifer{TM2D: 9, Storage: 1e-3}, hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.055}
	test := geo.PumpTest{Kind: geo.ConstantRate, RateLPS: geo.Some(0.3), Hours: geo.Some(8.0), RestM: geo.Some(6.0)}
	test.Readings = append(test.Readings, geo.TestReading{Minutes: 0, DepthM: 6})
	for min := 1.0; min <= 480; min *= 1.5 {
		s := must[float64](t)(hydraulics.StoredWell(a, w, 0.3*86.4, min/1440))
		test.Readings = append(test.Readings, geo.TestReading{Minutes: min, DepthM: 6 + 1.5 + s}) // 1.5 m of loss
	}
	test.PumpingM = geo.Some(test.Readings[len(test.Readings)-1].DepthM)
	found := hydraulics.Evidence(tested(test), hydraulics.DefaultAssumed())
	if len(found) != 1 {
		t.Fatalf("%+v", found)
	}
	near(t, "T", found[0].T.Value, 9, 0.05) // the well's own water, a few per cent
	changed := tested(test)
	changed.Tests[0].Readings[3].RateLPS = geo.Some(0.2)
	end := hydraulics.Evidence(changed, hydraulics.DefaultAssumed())
	if len(end) != 1 || end[0].T.Decades <= found[0].T.Decades || end[0].T.Value >= 9 {
		t.Errorf("by the end alone %+v, with losses", end)
	}
}

// Without screen, layers, or water in the screen a test says nothing of a material.
func TestEvidenceOfNothing(t *testing.T) {
	test := geo.PumpTest{Kind: geo.ConstantRate, RateLPS: geo.Some(0.3), Hours: geo.Some(4.0), RestM: geo.Some(6.0), PumpingM: geo.Some(6.4)}
	bare, unlogged, low, rising := tested(test), tested(test), tested(test), tested(test)
	bare.Pipes, unlogged.Layers = nil, nil
	low.Tests[0].RestM = geo.Some(12.6)
	rising.Tests[0].PumpingM = geo.Some(5.9)
	for name, b := range map[string]geo.Bore{"no pipes": bare, "no layers": unlogged, "water below the screen": low, "water above its rest": rising, "no tests": tested()} {
		if found := hydraulics.Evidence(b, hydraulics.DefaultAssumed()); len(found) != 0 {
			t.Errorf("%s: %+v", name, found)
		}
	}
}

// The invented region's weathered rock is clayey at 0.3 decades under the prior and sandy
// at 0.65 over it (geo/demoland, unit.go), and water comes from the sandy: what is learnt
// of it lies between prior and sandy base. Its sands have the prior's mean: what is learnt
// of them stays within two standard deviations. All are surer than before.
func TestLearnFromTheLand(t *testing.T) {
	var all []hydraulics.Tested
	for seed := range uint64(4) {
		for _, b := range demoland.New(seed + 1).Records().Bores {
			all = append(all, hydraulics.Evidence(b, hydraulics.DefaultAssumed())...)
		}
	}
	c := must[*hydraulics.Conductivities](t)(hydraulics.Learn(all))
	taught := 0
	for _, class := range soil.Known() {
		for _, grade := range []soil.Grade{soil.GradeUnknown, soil.Fine, soil.Medium, soil.Coarse} {
			prior := soil.ConductivityOf(class, grade, false)
			b := c.Of(class, grade, false)
			taught += b.Tests + c.Of(class, grade, true).Tests
			moved := b.Log10MPerS - prior.Log10MPerS
			if b.Tests > 0 && b.SDDecades >= prior.SDDecades || class == soil.Sand && math.Abs(moved) > 2*b.MeanSDDecades {
				t.Errorf("%s %s: %+v after %+v", grade, class, b, prior)
			}
			if class == soil.WeatheredRock && grade == soil.GradeUnknown && !(moved > 0 && moved < 0.65) {
				t.Errorf("weathered rock moved by %.2f decades", moved)
			}
		}
	}
	if taught+c.Mixed()+c.AtOdds() != len(all) || taught < 100 {
		t.Errorf("of %d tests of four regions %d taught something, %d are mixed, %d at odds", len(all), taught, c.Mixed(), c.AtOdds())
	}
}

func ExampleLearn() {
	// Three tests of coarse sand in a region where it is poorer than usual.
	sand := hydraulics.Interval{Material: hydraulics.Material{Class: soil.Sand, Grade: soil.Coarse}, ThickM: 3}
	var tests []hydraulics.Tested
	for _, drawdown := range []float64{2.1, 3.4, 2.6} {
		t, _ := hydraulics.SpecificCapacity(hydraulics.Single{
			DischargeM3D: 25, DrawdownM: drawdown, Days: 0.25, RadiusM: 0.075, Storage: 0.05, ScreenM: 3, LayerM: 3,
		})
		tests = append(tests, hydraulics.Tested{T: t, Open: []hydraulics.Interval{sand}})
	}
	before := (*hydraulics.Conductivities)(nil).Of(soil.Sand, soil.Coarse, false)
	learnt, _ := hydraulics.Learn(tests)
	after := learnt.Of(soil.Sand, soil.Coarse, false)
	fmt.Printf("before: %.0f m/d, ± %.2f decades\n", before.MetresPerDay(), before.SDDecades)
	fmt.Printf("after %d tests: %.0f m/d, ± %.2f decades\n", after.Tests, after.MetresPerDay(), after.SDDecades)
	// Output:
	// before: 45 m/d, ± 0.50 decades
	// after 3 tests: 7 m/d, ± 0.44 decades
}

// What was learnt is told in one order, with the range of most layers and how reported yields
// were read: all of them spread about their ground's, or all of them far below it.
func TestReportOfRecords(t *testing.T) {
	if r := must[*hydraulics.Conductivities](t)(hydraulics.Learn(nil)).Report(); len(r.Materials) != 0 || r.Yields != 0 {
		t.Errorf("without records: %+v", r)
	}
	sand, rock := material(soil.Sand, soil.Coarse), material(soil.WeatheredRock, soil.GradeUnknown)
	rng := rand.New(rand.NewPCG(5, 6))
	records := func(pump float64) (out []hydraulics.Tested) {
		for i := range 80 {
			m, k := rock, 0.5
			if i%2 == 0 {
				m, k = sand, 44.7
			}
			r := testOf(3*k*math.Pow(10, 0.3*rng.NormFloat64()-pump*rng.Float64()), 0.1, m, 3)
			r.How = hydraulics.Reported
			out = append(out, r)
			r.How = hydraulics.Measured // tests say where the ground lies
			r.T.Value = 3 * k * math.Pow(10, 0.3*rng.NormFloat64())
			out = append(out, r)
		}
		return out
	}
	all := must[*hydraulics.Conductivities](t)(hydraulics.Learn(records(0))).Report()
	taken := must[*hydraulics.Conductivities](t)(hydraulics.Learn(records(1.5))).Report()
	if all.Yields != 80 || all.AtLimit < 0.7 || taken.AtLimit > 0.4 {
		t.Errorf("%d yields, %.2f of them at the limit, where a pump took less %.2f", all.Yields, all.AtLimit, taken.AtLimit)
	}
	if len(all.Materials) != 2 || all.Materials[0].Class != soil.Sand || all.Materials[1].Class != soil.WeatheredRock {
		t.Fatalf("%+v", all.Materials)
	}
	for _, m := range all.Materials {
		if !(m.Lo < m.MPerDay && m.MPerDay < m.Hi) || math.Abs(math.Log10(m.Hi/m.Lo)-2*1.28155*0.3) > 0.2 {
			t.Errorf("%+v: not 80 %% of layers that differ by 0.3 decades", m)
		}
	}
}
