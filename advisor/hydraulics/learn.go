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
	How  Saying     // how T is to be read
	Open []Interval // below the water at rest
}

// Belief is what is believed of the conductivity of one layer of a material.
type Belief struct {
	Log10MPerS    float64 // mean of log10 K, K in m/s
	SDDecades     float64 // of log10 K of a layer not yet tested
	MeanSDDecades float64 // of the region's mean alone
	Tests         int     // records that taught it
}

// MetresPerDay returns the geometric mean of K.
//
//   - Units: m/d.
//   - Source: 1 d = 86,400 s.
//   - Checked by: TestLearnWithoutTests.
func (b Belief) MetresPerDay() float64 { return math.Pow(10, b.Log10MPerS) * secondsPerDay }

// Conductivities is what a region's records teach of its materials. The zero value knows no
// record and believes the priors of [soil.ConductivityOf].
type Conductivities struct {
	learnt map[Material]learnt
	mixed  int
	odd    int
	limit  float64 // share of reported yields that are all that their wells could give
	yields int     // how many told it
	alike  [kins]Alike
	here   [kins]here // at one place; the zero value is the region
}

// Mixed returns how many tests taught nothing because no one material gave most of their
// water.
func (c *Conductivities) Mixed() int { return c.mixed }

// AtOdds returns how many tests taught nothing because the K that they speak of cannot be
// that of the material written down: the log, the screen's place or the test is wrong.
func (c *Conductivities) AtOdds() int { return c.odd }

// oddSD is how many standard deviations from its prior a measured K is at odds with its
// material; common practice, no source.
const oddSD = 3

// mostly is the share of the expected transmissivity that one material must have for a
// record to be one of it: the rest then is under a tenth of a decade. Common practice, no
// source.
const mostly = 0.8

// Learn updates the conductivity of each material by what bores of the region say. The mean
// of log10 K over a region is Normal before, the spread of its layers around it log-normal. A
// record speaks of one layer's
//
//	log10(T share / b),
//
// with b and share the thickness and the share, by the priors, of the one material that
// gives most of the water: measured with its standard error, or known to be no less or no
// more, as its [Saying] has it. One in ten is taken to say nothing. Mean and spread are
// weighed on a grid. How many of the reported yields are all that their wells could give is
// weighed with them, one share for the region: where crews bail a well out they spread evenly
// about the ground's, where a pump takes what it takes they lie below it.
//
//   - Shapes: any number of records; their order does not matter but for rounding.
//   - Units: as [Estimate] and [Interval].
//   - Domain: T above 0, thicknesses above 0. A record of several materials of which none
//     has 80 % of the expected T is counted as mixed, a measurement whose K lies three
//     standard deviations from the prior as at odds; neither teaches. Wells that gave no
//     water are not tested, so that what is learnt is of ground that gave some.
//   - Errors: [InputError].
//   - Source: Bayes' rule, any textbook; the prior is [soil.ConductivityOf]. Censored records
//     as Tobin (1958).
//   - Checked by: TestLearnWithoutTests, TestLearnAgainstDraws, TestLearnFindsTheRegion,
//     TestLearnFromYields, TestLearnMixed, TestLearnAtOdds, TestLearnFromTheLand,
//     TestReportOfRecords, ExampleLearn.
func Learn(tests []Tested) (*Conductivities, error) {
	c := &Conductivities{learnt: map[Material]learnt{}}
	var said saidOf
	for _, t := range tests {
		m, s, share, err := t.ofOne()
		switch {
		case err != nil:
			return nil, err
		case share < mostly:
			c.mixed++
		case s.atOdds(m.prior()):
			c.odd++
		default:
			said.add(m, s)
		}
	}
	c.limit, c.yields = said.limit(), said.yields()
	for _, of := range said {
		c.learnt[of.Material], _ = of.learn(c.limit)
	}
	return c, nil
}

// ofOne is what a record says of the one material that gives most of the water, and that
// one's share.
func (t Tested) ofOne() (m Material, s says, share float64, err error) {
	if err = positive(named{"transmissivity", t.T.Value}, named{"standard error", t.T.Decades}); err != nil {
		return m, s, 0, err
	}
	m, thick, share, err := t.main()
	if err != nil || share < mostly {
		return m, s, share, err
	}
	return m, says{how: t.How, log10: math.Log10(t.T.Value * share / thick / secondsPerDay), decades: t.T.Decades}, share, nil
}

// atOdds reports a measurement that cannot be of its material.
func (s says) atOdds(prior soil.Conductivity) bool {
	off := s.log10 - prior.Log10MPerS
	far := math.Abs(off) > oddSD*math.Hypot(prior.SDDecades, s.decades)
	return far && (s.how == Measured || (off > 0) == (s.how == AtLeast || s.how == Reported))
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

// ofRegion is what is believed of a material anywhere in the region.
func (c *Conductivities) ofRegion(m Material) learnt {
	if c != nil && c.learnt[m].n > 0 {
		return c.learnt[m]
	}
	prior := m.prior()
	return learnt{
		mean: prior.Log10MPerS, sd: prior.SDDecades * math.Sqrt(betweenRegions), layer: (1 - betweenRegions) * prior.SDDecades * prior.SDDecades,
	}
}

// Of returns what is believed of a material after the records; without one of it, its
// prior. What [Conductivities.Near] returns believes it of one place.
//
//   - Units: as [Belief].
//   - Domain: every class; c may be nil.
//   - Source: as [Learn].
//   - Checked by: TestLearnWithoutTests, TestLearnAgainstDraws, TestNearAgainstMatrices.
func (c *Conductivities) Of(class soil.Class, grade soil.Grade, clayey bool) Belief {
	m := Material{class, grade, clayey}
	x := c.ofRegion(m)
	b := Belief{x.mean, math.Sqrt(x.sd*x.sd + x.layer), x.sd, x.n}
	if c == nil || x.n == 0 {
		b.SDDecades = m.prior().SDDecades // to the last digit
	}
	if k := m.kin(); c != nil && k >= 0 && c.here[k].bores > 0 {
		return c.here[k].on(b)
	}
	return b
}
