package level

import (
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
	var points []variogram.XY
	var lows, variances []float64
	for _, o := range obs {
		if o.State == DryTo {
			report.DryHoles++
			continue
		}
		y, v := o.low(season)
		points, lows, variances = append(points, o.At), append(lows, y), append(variances, v)
	}
	report.Readings = len(points)
	if len(points) == 0 {
		return nil, report, variogram.ErrTooFewData
	}
	s := chooseScale(lows)
	for i := range lows {
		variances[i] = s.variance(lows[i], variances[i])
		lows[i] = s.z(lows[i])
	}
	options := variogram.DefaultOptions()
	options.Family = variogram.FamilyExponential
	structure, fitted, err := variogram.Fit(points, lows, variances, options)
	report.ShiftM, report.Variogram = s.shift, fitted
	if err != nil {
		return nil, report, err
	}
	return &Model{season: season, scale: s, structure: structure, micro: fitted.Micro}, report, nil
}

// RangeM is the practical range of the spatial likeness, metres; 0 when there is none.
func (m *Model) RangeM() float64 { return m.structure.Range() }

// datum carries a Rest or Flowing observation to the kriging scale.
func (m *Model) datum(o Observation) krige.Datum {
	y, v := o.low(m.season)
	return krige.Datum{XY: o.At, Value: m.scale.z(y), ErrVar: m.scale.variance(y, v)}
}
