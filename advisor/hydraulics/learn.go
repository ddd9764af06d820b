package hydraulics

import (
	"math"

	"waterstrike/geo/soil"
)

// Material is what conductivity depends on.
type Material struct {
	Class  soil.Class
	Grade  soil.Grade
	Clayey bool
}

// prior is what is believed of a material before any test.
func (m Material) prior() soil.Conductivity { return soil.ConductivityOf(m.Class, m.Grade, m.Clayey) }

// Interval is ground that a screen opens.
type Interval struct {
	Material
	ThickM float64
}

// Tested is a transmissivity with the ground that it is of.
type Tested struct {
	T    Estimate
	Open []Interval // below the water at rest
}

// Belief is what is believed of the conductivity of one layer of a material.
type Belief struct {
	Log10MPerS    float64 // mean of log10 K, K in m/s
	SDDecades     float64 // of log10 K of a layer not yet tested
	MeanSDDecades float64 // of the region's mean alone
	Tests         int     // that taught it
}

// MetresPerDay returns the geometric mean of K.
//
//   - Units: m/d.
//   - Source: 1 d = 86,400 s.
//   - Checked by: TestLearnWithoutTests.
func (b Belief) MetresPerDay() float64 { return math.Pow(10, b.Log10MPerS) * secondsPerDay }

// Conductivities is what a region's tests teach of its materials. The zero value knows no
// test and believes the priors of [soil.ConductivityOf].
type Conductivities struct {
	learnt map[Material]sums
	mixed  int
	odd    int
}

// sums are the weights of the tests of a material and their weighted log10 K.
type sums struct {
	n               int
	weight, weighed float64
}

// Mixed returns how many tests taught nothing because no one material gave most of their
// water.
func (c *Conductivities) Mixed() int { return c.mixed }

// AtOdds returns how many tests taught nothing because the K that they speak of cannot be
// that of the material written down: the log, the screen's place or the test is wrong.
func (c *Conductivities) AtOdds() int { return c.odd }

// oddSD is how many standard deviations from its prior a K is at odds with its material;
// common practice, no source.
const oddSD = 3

// The prior variance of log10 K is half between regions and half between the layers of one
// region: tests narrow the first, nothing narrows the second. Common practice, no source.
const betweenRegions = 0.5

// mostly is the share of the expected transmissivity that one material must have for a
// test to be one of it: the rest then is under a tenth of a decade. Common practice, no
// source.
const mostly = 0.8

// Learn updates the conductivity of each material by the region's tests. The mean of
// log10 K over a region has a Normal prior; a test adds
//
//	log10(T share / b), variance = (between layers)² + (standard error of the test)²,
//
// with b and share the thickness and the share, by the priors, of the one material that
// gives most of the water. Mean and variance follow in closed form.
//
//   - Shapes: any number of tests; their order does not matter but for rounding.
//   - Units: as [Estimate] and [Interval].
//   - Domain: T above 0, thicknesses above 0. A test of several materials of which none
//     has 80 % of the expected T is counted as mixed, one whose K lies three standard
//     deviations from the prior as at odds; neither teaches. Wells that gave no water are
//     not tested, so that what is learnt is of ground that gave some.
//   - Errors: [InputError].
//   - Source: conjugate Normal update with known variance, any textbook; the prior is
//     [soil.ConductivityOf].
//   - Checked by: TestLearnWithoutTests, TestLearnConjugate, TestLearnFindsTheRegion,
//     TestLearnMixed, TestLearnAtOdds, TestLearnFromTheLand, ExampleLearn.
func Learn(tests []Tested) (*Conductivities, error) {
	c := &Conductivities{learnt: map[Material]sums{}}
	for _, t := range tests {
		if err := positive(named{"transmissivity", t.T.Value}, named{"standard error", t.T.Decades}); err != nil {
			return nil, err
		}
		m, thick, share, err := t.main()
		if err != nil {
			return nil, err
		}
		if share < mostly {
			c.mixed++
			continue
		}
		c.add(m, math.Log10(t.T.Value*share/thick/secondsPerDay), t.T.Decades)
	}
	return c, nil
}

// add takes one log10 K with the standard error of its test.
func (c *Conductivities) add(m Material, logK, decades float64) {
	prior := m.prior()
	if math.Abs(logK-prior.Log10MPerS) > oddSD*math.Hypot(prior.SDDecades, decades) {
		c.odd++
		return
	}
	weight := 1 / (m.layerVariance() + decades*decades)
	s := c.learnt[m]
	c.learnt[m] = sums{s.n + 1, s.weight + weight, s.weighed + weight*logK}
}

// main returns the material that by the priors gives most of the water, its thickness and
// its share.
func (t Tested) main() (m Material, thickM, share float64, err error) {
	var total float64
	thick, of := map[Material]float64{}, map[Material]float64{}
	for _, i := range t.Open {
		if err := positive(named{"thickness", i.ThickM}); err != nil {
			return m, 0, 0, err
		}
		expected := i.ThickM * i.prior().MetresPerDay()
		total += expected
		thick[i.Material] += i.ThickM
		of[i.Material] += expected
	}
	for _, i := range t.Open { // in the order of the layers, not of the map
		if of[i.Material] > of[m] {
			m = i.Material
		}
	}
	if total == 0 {
		return m, 0, 0, nil
	}
	return m, thick[m], of[m] / total, nil
}

// layerVariance is the variance of log10 K between layers of one region.
func (m Material) layerVariance() float64 {
	sd := m.prior().SDDecades
	return (1 - betweenRegions) * sd * sd
}

// Of returns what is believed of a material after the tests; without a test of it, its
// prior.
//
//   - Units: as [Belief].
//   - Domain: every class; c may be nil.
//   - Source: as [Learn].
//   - Checked by: TestLearnWithoutTests, TestLearnConjugate.
func (c *Conductivities) Of(class soil.Class, grade soil.Grade, clayey bool) Belief {
	m := Material{class, grade, clayey}
	prior := m.prior()
	between := betweenRegions * prior.SDDecades * prior.SDDecades
	var s sums
	if c != nil {
		s = c.learnt[m]
	}
	if s.n == 0 {
		return Belief{prior.Log10MPerS, prior.SDDecades, math.Sqrt(between), 0}
	}
	variance := 1 / (1/between + s.weight)
	return Belief{
		Log10MPerS: variance * (prior.Log10MPerS/between + s.weighed), SDDecades: math.Sqrt(variance + m.layerVariance()),
		MeanSDDecades: math.Sqrt(variance), Tests: s.n,
	}
}
