package level

import (
	"math"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// Report says what a fit rests on and how far to trust it.
type Report struct {
	Readings  int              `json:"readings"` // rest levels and flowing bores
	DryHoles  int              `json:"dryHoles"`
	ShiftM    float64          `json:"shiftM"`
	Season    Season           `json:"season"`
	Variogram variogram.Report `json:"variogram"`
}

// Model is a fitted statement about a region's levels. It is never changed after Fit and
// safe for concurrent use.
type Model struct {
	season    Season
	scale     scale
	structure variogram.Model
	micro     float64
	halfM     float64 // half the diagonal of the box around the fitted places
}

// Fit learns the scale and the spatial likeness of the dry-season low from observations.
//
//   - Shapes: any number of observations in one plane.
//   - Units: metres.
//   - Domain: at least 10 distinct places with a rest level or a flowing bore; dry holes
//     are counted but do not enter the fit.
//   - Errors: [variogram.ErrTooFewData] and the other errors of [variogram.Fit].
//   - Cost: that of [variogram.Fit], about 1 s.
//   - Source: restricted likelihood, Harville (1974); scale by Box and Cox (1964).
func Fit(obs []Observation, season Season) (*Model, Report, error) {
	report := Report{Season: season}
	var stated []Observation
	var points []variogram.XY
	var lows []float64
	for _, o := range obs {
		if o.State == DryTo {
			report.DryHoles++
			continue
		}
		y, _ := o.low(season)
		stated, points, lows = append(stated, o), append(points, o.At), append(lows, y)
	}
	report.Readings = len(points)
	if len(points) == 0 {
		return nil, report, variogram.ErrTooFewData
	}
	s := chooseScale(lows)
	variances := make([]float64, len(stated))
	for i, o := range stated {
		lows[i], variances[i] = o.onScale(s, season)
	}
	options := variogram.DefaultOptions()
	options.Family = variogram.FamilyExponential
	structure, fitted, err := variogram.Fit(points, lows, variances, options)
	report.ShiftM, report.Variogram = s.shift, fitted
	if err != nil {
		return nil, report, err
	}
	return &Model{season: season, scale: s, structure: structure, micro: fitted.Micro, halfM: halfDiagonal(points)}, report, nil
}

// halfDiagonal is that of the box around points.
func halfDiagonal(points []variogram.XY) float64 {
	low, high := points[0], points[0]
	for _, p := range points {
		low = variogram.XY{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = variogram.XY{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	return math.Hypot(high.X-low.X, high.Y-low.Y) / 2
}

// ReachM is the distance beyond which an observation no longer counts as evidence, metres:
// the practical range of the spatial likeness. Where places are not alike at any distance
// the region is one population: then it is half the region's diagonal.
func (m *Model) ReachM() float64 {
	if reach := m.structure.Range(); reach > 0 {
		return reach
	}
	return m.halfM
}

// datum carries a Rest or Flowing observation to the kriging scale.
func (m *Model) datum(o Observation) krige.Datum {
	z, v := o.onScale(m.scale, m.season)
	return krige.Datum{XY: o.At, Value: z, ErrVar: v}
}
