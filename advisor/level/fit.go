package level

import (
	"context"
	"math"
	"slices"

	"waterstrike/advisor/variogram"
)

// Report says what a fit rests on and how far to trust it.
type Report struct {
	Readings  int              `json:"readings"` // rest levels and flowing bores
	DryHoles  int              `json:"dryHoles"`
	Wells     int              `json:"wells"`    // with known dry months
	Root      bool             `json:"root"`     // the scale is a root, not a logarithm
	ShiftM    float64          `json:"shiftM"`   // of the scale
	PerShare  float64          `json:"perShare"` // how much of the scale a share of the shifted depth is at the middle low, 1 on a logarithm
	VagueVar  float64          `json:"vagueVar"` // error variance of readings of unknown origin, a share of the depth squared
	Season    Season           `json:"season"`
	Trend     []Slope          `json:"trend,omitempty"` // none where the land is not known
	RangeM    float64          `json:"rangeM"`          // distance at which places are hardly alike any more; 0 where none are
	Variogram variogram.Report `json:"variogram"`
	Shown     Shown            `json:"shown"` // what is drawn of it
}

// Model is a fitted statement about a region's levels. It is never changed after Fit and
// safe for concurrent use.
type Model struct {
	season    Season
	scale     scale
	trend     trend
	structure variogram.Model
	micro     float64
	halfM     float64 // half the diagonal of the box around the fitted places
	spacingM  float64 // from a fitted place to its nearest, the middle one
}

// Fit learns the scale, the trend on the shape of the land and the spatial likeness of the
// dry-season low from observations. Dry holes and wells do not enter the scale and the
// likeness; in the trend they count as the bounds that they are.
//
//   - Shapes: any number of observations in one plane.
//   - Units: metres.
//   - Domain: at least 10 distinct places with a rest level or a flowing bore. Without the
//     land of half of them, and of 45, there is no trend.
//   - Errors: [variogram.ErrTooFewData] and the other errors of [variogram.Fit]; the
//     context's error when it ends, within a likelihood.
//   - Cost: that of [variogram.Fit], about 1 s for 500 observations.
//   - Source: restricted likelihood, Harville (1974); scale by Box and Cox (1964); slopes
//     by ridge regression, Hoerl and Kennard (1970).
//   - Checked by: TestPredictHoldsItsRange, TestTrendIsLearned, TestDryHolesInTheTrend,
//     TestSeasonIsLearned, TestYearsAreLearned, TestScaleFollowsTheScatter,
//     TestShownLikenessIsThatBesideTheTrend, TestShownLeftOut, TestShownMonths,
//     TestFitEndsWithItsContext.
func Fit(ctx context.Context, obs []Observation, season Season) (*Model, Report, error) {
	f := newFitting(obs, season)
	f.stop = ctx.Err
	report := Report{Season: season, Readings: len(f.stated)}
	for _, o := range f.bounded {
		if o.State == Well {
			report.Wells++
		} else {
			report.DryHoles++
		}
	}
	if len(f.stated) == 0 {
		return nil, report, variogram.ErrTooFewData
	}
	if err := f.seasonAndNoise(); err != nil {
		return nil, report, err
	}
	fitted, err := f.likeness(fully())
	report.Root, report.ShiftM, report.VagueVar, report.Season, report.Variogram = f.scale.root, f.scale.shift, f.scale.vagueVar, f.season, fitted
	report.PerShare = f.scale.perShare(quartile(f.lows()).Mid)
	if err != nil {
		return nil, report, err
	}
	if err := f.slopes(); err != nil {
		return nil, report, err
	}
	report.RangeM = f.structure.Range()
	report.Trend, report.Shown = f.trend.report(), f.show()
	return &f.Model, report, nil
}

// fitting is a model under way with what it is fitted to.
type fitting struct {
	Model
	stated  []Observation
	bounded []Observation  // dry holes and wells
	points  []variogram.XY // of those stated
	lands   []Land
	values  []float64 // on the scale
	errVars []float64
	before  *variogram.Report // the last fit of likeness
	stop    func() error
}

func newFitting(obs []Observation, season Season) *fitting {
	f := &fitting{Model: Model{season: season}}
	f.scale.shift = shifts[0]
	for _, o := range obs {
		if o.IsBound() {
			f.bounded = append(f.bounded, o)
			continue
		}
		f.stated = append(f.stated, o)
		f.points, f.lands = append(f.points, o.At), append(f.lands, o.Land)
	}
	f.halfM = halfDiagonal(f.points)
	return f
}

// lows are those that the readings state.
func (f *fitting) lows() []float64 {
	lows := make([]float64, len(f.stated))
	for i, o := range f.stated {
		lows[i], _ = o.low(f.season)
	}
	return lows
}

// adopt changes the scale, and what an earlier fit found to the new one.
func (f *fitting) adopt(s scale, lows []float64) {
	if f.before != nil {
		middle := quartile(slices.Clone(lows)).Mid
		by := square(s.perMetre(middle) / f.scale.perMetre(middle))
		f.before.Micro *= by
		f.before.PartialSill *= by
	}
	f.scale = s
	f.carry()
}

// carry carries the readings to the scale.
func (f *fitting) carry() {
	f.values, f.errVars = make([]float64, len(f.stated)), make([]float64, len(f.stated))
	for i, o := range f.stated {
		f.values[i], f.errVars[i] = o.onScale(f.scale, f.season)
	}
}

// fully returns the options of the last fit, quickly those of fits on the way there.
func fully() variogram.Options {
	options := variogram.DefaultOptions()
	options.Family, options.Tolerance = variogram.FamilyExponential, 1e-3
	return options
}

func quickly() variogram.Options {
	options := fully()
	options.MaxPoints, options.Starts, options.Tolerance, options.Compare = quickPoints, 1, 0.02, true
	return options
}

const (
	quickPoints  = 120
	seasonRounds = 2 // of months and years, each of which is told the better by the other
)

// noises are the spreads of readings about the course of the year that are tried, metres,
// and noiseLog what is known of it beforehand: its logarithm about that of noiseM.
// Common practice, no source.
var noises = [...]float64{0.15, 0.3, 0.6, 0.9, 1.3}

const (
	noiseM   = 0.4
	noiseLog = 1.0
)

// seasonAndNoise learns the course of the year, and how far readings scatter about it.
// Scatter of so many metres tells itself from a ground that differs from spot to spot by
// the depth: on the log scale it counts less where the water is deep.
func (f *fitting) seasonAndNoise() error {
	for range seasonRounds {
		f.rescale()
		if _, err := f.likeness(quickly()); err != nil {
			return err
		}
		if err := f.learnSeason(); err != nil {
			return err
		}
		if err := f.learnYears(); err != nil {
			return err
		}
	}
	f.rescale()
	if err := f.learnNoise(); err != nil {
		return err
	}
	return f.learnVague()
}

// learnNoise takes the likeliest scatter of readings about the course of the year.
func (f *fitting) learnNoise() error {
	best, err := f.likeliest(len(noises), func(i int) (prior float64) {
		f.season.NoiseSDM = noises[i]
		off := math.Log(noises[i]/noiseM) / noiseLog
		return -off * off / 2
	})
	f.season.NoiseSDM = noises[best]
	f.carry()
	return err
}

// learnVague takes the likeliest error of readings of unknown origin, where there are
// enough of them to tell.
func (f *fitting) learnVague() error {
	tried := f.vagueVars()
	if len(tried) == 1 {
		return nil
	}
	best, err := f.likeliest(len(tried), func(i int) (prior float64) {
		f.scale.vagueVar = tried[i]
		return 0
	})
	f.scale.vagueVar = tried[best]
	f.carry()
	return err
}

// vagueVars are those that are tried: one where there are too few such readings to tell.
func (f *fitting) vagueVars() []float64 {
	vague := 0
	for _, o := range f.stated {
		if o.Vague {
			vague++
		}
	}
	if vague < leastVague {
		return vagueVars[:1]
	}
	return vagueVars[:]
}

const leastVague = 20

// likeliest sets one choice after another and returns the one under which the readings are
// likeliest, with what is known of it beforehand.
func (f *fitting) likeliest(choices int, set func(int) (prior float64)) (best int, err error) {
	bestLL := math.Inf(-1)
	for i := range choices {
		prior := set(i)
		f.carry()
		report, err := f.likeness(quickly())
		if err != nil {
			return 0, err
		}
		if ll := report.LogLik + prior; ll > bestLL {
			best, bestLL = i, ll
		}
	}
	return best, nil
}

// likeness fits how alike places are beside the trend.
func (f *fitting) likeness(options variogram.Options) (variogram.Report, error) {
	f.trend = newTrend(f.lands)
	options.Drift, options.Stop, options.From = f.trend.columns(f.lands), f.stop, f.before
	structure, report, err := variogram.Fit(f.points, f.values, f.errVars, options)
	if err == nil {
		f.structure, f.micro, f.before = structure, report.Micro, &report
		f.spacingM = 4 * report.Bounds.MinM
	}
	return report, err
}

// slopes learns the trend from readings and bounds.
func (f *fitting) slopes() error {
	if f.trend.flat {
		return nil
	}
	data, err := f.withBounds(f.data())
	if err != nil {
		return err
	}
	return f.trend.learn(data, f.structure)
}

// halfDiagonal is that of the box around points.
func halfDiagonal(points []variogram.XY) float64 {
	if len(points) == 0 {
		return 0
	}
	low, high := points[0], points[0]
	for _, p := range points {
		low = variogram.XY{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = variogram.XY{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	return math.Hypot(high.X-low.X, high.Y-low.Y) / 2
}

// ReachM is the distance beyond which an observation no longer counts as evidence, metres:
// the practical range of the spatial likeness. Where places are not alike at any distance,
// or hardly from one to the next, the region is one population: then it is half the
// region's diagonal.
func (m *Model) ReachM() float64 {
	const hardly = 0.2
	alike := m.structure.Cov(m.spacingM) > hardly*m.structure.Cov(0)
	if reach := m.structure.Range(); reach > 0 && alike {
		return reach
	}
	return m.halfM
}
