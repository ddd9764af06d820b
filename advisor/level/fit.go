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
	Doubt     Doubt            `json:"doubt"`
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
	doubt     doubt
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
//     land of half of them, and of 45, there is no trend; with 162 it may bend.
//   - Errors: [variogram.ErrTooFewData] and the other errors of [variogram.Fit]; the
//     context's error when it ends, within a likelihood.
//   - Cost: that of [variogram.Fit], 2 s for 400 observations.
//   - Source: restricted likelihood, Harville (1974); scale by Box and Cox (1964); slopes
//     by ridge regression, Hoerl and Kennard (1970).
//   - Checked by: TestPredictHoldsItsRange, TestTrendIsLearned, TestTrendBends,
//     TestDryHolesInTheTrend, TestDoubtIsLearned, TestSeasonIsLearned, TestYearsAreLearned, TestScaleFollowsTheScatter,
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
	fitted, err := f.ground()
	report.Root, report.ShiftM, report.VagueVar, report.Season, report.Variogram = f.scale.root, f.scale.shift, f.scale.vagueVar, f.season, fitted
	report.PerShare = f.scale.perShare(quartile(f.lows()).Mid)
	if err != nil {
		return nil, report, err
	}
	if err := f.learnDoubt(); err != nil {
		return nil, report, err
	}
	report.RangeM, report.Doubt = f.structure.Range(), f.doubt.report()
	report.Trend, report.Shown = f.trend.report(), f.show()
	return &f.Model, report, nil
}

// ground learns likeness and trend. Where the trend bends, its bends are in the likeness at
// first, and are taken out for a second fit.
func (f *fitting) ground() (variogram.Report, error) {
	fitted, err := f.likeness(fully(), nil)
	if err != nil {
		return fitted, err
	}
	if err := f.slopes(); err != nil || !f.trend.bends {
		return fitted, err
	}
	if fitted, err = f.likeness(fully(), f.trend.bent(f.lands)); err != nil {
		return fitted, err
	}
	return fitted, f.slopes()
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
	slopeRounds  = 2 // of slopes with bounds, each of which hangs on the other
	quickPoints  = 120
	seasonRounds = 3 // of months and years, each of which is told the better by the other
)

// seasonAndNoise learns the course of the year, and how far readings scatter about it.
// Scatter of so many metres tells itself from a ground that differs from spot to spot by
// the depth: on the log scale it counts less where the water is deep.
func (f *fitting) seasonAndNoise() error {
	for range seasonRounds {
		f.rescale()
		if _, err := f.likeness(quickly(), nil); err != nil {
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

// likeness fits how alike places are beside the trend, and beside its bends where these are
// given.
func (f *fitting) likeness(options variogram.Options, bent []float64) (variogram.Report, error) {
	f.trend = newTrend(f.lands)
	options.Drift, options.Stop, options.From = f.trend.columns(f.lands), f.stop, f.before
	values := slices.Clone(f.values)
	for i := range bent {
		values[i] -= bent[i]
	}
	structure, report, err := variogram.Fit(f.points, values, f.errVars, options)
	if err == nil {
		f.structure, f.micro, f.before = structure, report.Micro, &report
		f.spacingM = 4 * report.Bounds.MinM
	}
	return report, err
}

// slopes learns the trend from the readings, then from bounds too: what these add hangs on
// the trend.
func (f *fitting) slopes() error {
	if f.trend.flat {
		return nil
	}
	data := f.data()
	for i := range data {
		data[i].Drift = f.trend.row(f.lands[i])
	}
	if err := f.trend.learn(data, f.structure); err != nil || len(f.bounded) == 0 {
		return err
	}
	places := slices.Concat(f.stated, f.bounded)
	for range slopeRounds {
		data, err := f.withBounds()
		if err != nil {
			return err
		}
		for i := range data {
			trend, _ := f.trend.at(places[i].Land)
			data[i].Value += trend
			data[i].Drift = f.trend.row(places[i].Land)
		}
		if err := f.trend.learn(data, f.structure); err != nil {
			return err
		}
	}
	return nil
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
