package level

import (
	"math"
	"slices"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

// Shown is a fit beside what it was fitted to, to be drawn.
type Shown struct {
	Unlike  []Unlike  `json:"unlike"`  // by distance, near to far
	Model   []ModelAt `json:"model"`   // what the model says of the same
	LeftOut LeftOut   `json:"leftOut"` // each reading as all others state it
	Months  [12]Month `json:"months"`  // January first
}

// Unlike is how unlike the readings of pairs so far apart are: half their squared
// difference on the log scale, reading errors included.
type Unlike struct {
	DistanceM    float64 `json:"distanceM"` // mean of the pairs
	Pairs        int     `json:"pairs"`
	Classical    float64 `json:"classical"` // of the lows as they are, [variogram.Matheron]
	Robust       float64 `json:"robust"`    // the same, [variogram.CressieHawkins]
	Beside       float64 `json:"beside"`    // beside the trend, classical
	BesideRobust float64 `json:"besideRobust"`
}

// ModelAt is the model's word on pairs so far apart, the mean reading error added.
type ModelAt struct {
	DistanceM float64 `json:"distanceM"`
	Gamma     float64 `json:"gamma"`
}

// LeftOut compares readings with what all others say of them, in the month in which they
// were read. Neighbours on the spot stay in view, and the slopes have seen the reading: it
// is kinder than hiding whole squares of land.
type LeftOut struct {
	Cases   []LeftOutCase `json:"cases"`
	Held    float64       `json:"held"`    // share of them within P10 and P90; 0 without cases
	OffM    float64       `json:"offM"`    // median of how far the reading was from P50
	DeeperM float64       `json:"deeperM"` // median of how much deeper it was
	PIT     [10]int       `json:"pit"`     // readings by tenth of the stated probability, shallow to deep
}

// LeftOutCase is one reading: its depth, and the range that the others give it.
type LeftOutCase struct {
	ReadM float64 `json:"readM"`
	P10   float64 `json:"p10"`
	P50   float64 `json:"p50"`
	P90   float64 `json:"p90"`
}

// Month is what the readings of one month say of the yearly course.
type Month struct {
	Readings int               `json:"readings"` // with this month
	Used     int               `json:"used"`     // of these, in RiseM: where the water lies deep enough to move
	RiseM    geo.Opt[Quartile] `json:"riseM"`    // how far they stood over the low of the year
}

// Quartile holds the middle and the two quartiles of some numbers.
type Quartile struct {
	Lo  float64 `json:"lo"`
	Mid float64 `json:"mid"`
	Hi  float64 `json:"hi"`
}

// show lays what was fitted beside the fit.
func (f *fitting) show() Shown {
	out := Shown{}
	out.Unlike, out.Model = f.unlike()
	lows := f.statedWithout()
	out.LeftOut = f.leftOutCases(lows)
	out.Months = f.months(lows)
	return out
}

const (
	unlikeBins  = 12
	leastPairs  = 30 // Journel and Huijbregts (1978), from memory
	modelPoints = 60
)

// unlike measures how unlike pairs are, out to twice the range, and what the model says.
func (f *fitting) unlike() (bins []Unlike, model []ModelAt) {
	cutoff := f.halfM
	if reach := f.structure.Range(); reach > 0 {
		cutoff = min(f.halfM, max(2*reach, f.halfM/4))
	}
	beside := make([]float64, len(f.values))
	meanError := 0.0
	for i, v := range f.values {
		trend, _ := f.trend.at(f.lands[i])
		beside[i] = v - trend
		meanError += f.errVars[i] / float64(len(f.values))
	}
	measure := func(values []float64, est variogram.Estimator) []variogram.Bin {
		b, err := variogram.Empirical(f.points, values, est, cutoff/unlikeBins, cutoff)
		if err != nil { // no pair in reach
			return nil
		}
		return b
	}
	classical, robust := measure(f.values, variogram.Matheron), measure(f.values, variogram.CressieHawkins)
	besides, besidesRobust := measure(beside, variogram.Matheron), measure(beside, variogram.CressieHawkins)
	for i, b := range classical {
		if b.Pairs >= leastPairs {
			bins = append(bins, Unlike{b.DistanceM, b.Pairs, b.Gamma, robust[i].Gamma, besides[i].Gamma, besidesRobust[i].Gamma})
		}
	}
	for i := range modelPoints + 1 {
		h := cutoff * max(float64(i), 1e-3) / modelPoints // at 0 itself there is no difference
		model = append(model, ModelAt{h, f.structure.Gamma(h) + meanError})
	}
	return bins, model
}

// statedWithout returns the low at each reading as all others state it; none where the
// others do not suffice: a report that cannot be made does not stop a fit.
func (f *fitting) statedWithout() []Distribution {
	solver, err := krige.NewSolver(f.structure, krige.Ordinary{})
	if err != nil {
		return nil
	}
	data, _ := f.readings(f.stated)
	if solver.Fit(data) != nil {
		return nil
	}
	estimates, err := solver.LeaveOneOut()
	if err != nil {
		return nil
	}
	out := make([]Distribution, len(estimates))
	for i, e := range estimates {
		trend, extra := f.trend.at(f.stated[i].Land)
		wider := f.doubt.at(f.trend.unusual(f.stated[i].Land))
		out[i] = Distribution{
			Mean: e.Mean + trend, FieldVar: wider * (max(e.Variance-f.micro, 0) + extra), MicroVar: wider * min(f.micro, e.Variance),
			scale: f.scale, season: f.season,
		}
	}
	return out
}

// leftOutCases compares the readings with what the others state; a flowing bore has no
// depth to compare.
func (f *fitting) leftOutCases(lows []Distribution) LeftOut {
	var out LeftOut
	var off, deeper []float64
	held := 0
	for i, low := range lows {
		o := f.stated[i]
		if o.State != Rest {
			continue
		}
		r := low.Reading(o.On, o.Vague)
		c := LeftOutCase{o.DepthM, r.Quantile(0.1), r.Quantile(0.5), r.Quantile(0.9)}
		if c.P10 <= c.ReadM && c.ReadM <= c.P90 {
			held++
		}
		off, deeper = append(off, math.Abs(c.ReadM-c.P50)), append(deeper, c.ReadM-c.P50)
		tenth := int(float64(len(out.PIT)) * (1 - r.Below(c.ReadM)))
		out.PIT[max(0, min(tenth, len(out.PIT)-1))]++
		out.Cases = append(out.Cases, c)
	}
	if n := len(out.Cases); n > 0 {
		out.Held, out.OffM, out.DeeperM = float64(held)/float64(n), quartile(off).Mid, quartile(deeper).Mid
	}
	return out
}

// movingShare is the share of the full yearly range from which a reading tells the course.
const movingShare = 0.5

// months gathers by month how far readings stood over the low that the others state, as
// much as it would be where the water is deep.
func (f *fitting) months(lows []Distribution) (out [12]Month) {
	var rises [12][]float64
	for i, o := range f.stated {
		if o.State != Rest || o.On.Month == 0 {
			continue
		}
		m := o.On.Month - 1
		out[m].Readings++
		if len(lows) == 0 {
			continue
		}
		low := lows[i].Low(0.5)
		if share := f.season.share(low); share >= movingShare {
			deeper, _ := f.season.year(o.On)
			rises[m] = append(rises[m], (low-o.DepthM+deeper*f.season.yearShare(low))/share)
		}
	}
	for m, r := range rises {
		if out[m].Used = len(r); len(r) > 0 {
			out[m].RiseM = geo.Some(quartile(r))
		}
	}
	return out
}

// quartile takes the quartiles of one number or more, between neighbours where none is
// one.
func quartile(values []float64) Quartile {
	slices.Sort(values)
	at := func(p float64) float64 {
		place := p * float64(len(values)-1)
		i := int(place)
		j := min(i+1, len(values)-1)
		return values[i] + (place-float64(i))*(values[j]-values[i])
	}
	return Quartile{at(0.25), at(0.5), at(0.75)}
}
