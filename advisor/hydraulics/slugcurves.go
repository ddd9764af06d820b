package hydraulics

import "math"

// SlugCurves returns the plot of a displacement that dies: what is left of it as a share of
// the first, which readings were used, and the line of the fit with the ends of its range,
// which turn about the middle of the used readings.
//
//   - Shapes: lines of 2 points, over the time of the used readings. Readings of nothing
//     left have no logarithm and are left out.
//   - Units: X in d; Y dimensionless; the lines are straight on the logarithm of Y.
//   - Domain: a fit by [FitSlug] of these readings; startM as there.
//   - Errors: [InputError], [ErrTooFew].
//   - Source: Hvorslev (1951).
//   - Checked by: TestSlugCurves.
func SlugCurves(startM float64, f SlugFit, readings []Reading) ([]Curve, error) {
	rate := f.RatePerDay
	if err := positive(named{"first displacement", startM}, named{"rate", rate.Value}, named{"low rate", rate.Lo}, named{"high rate", rate.Hi}); err != nil {
		return nil, err
	}
	if len(f.Used) < 3 || f.Used[len(f.Used)-1] >= len(readings) {
		return nil, ErrTooFew
	}
	var all, used []Point
	for _, r := range readings {
		if r.DrawdownM > 0 {
			all = append(all, Point{r.Days, r.DrawdownM / startM})
		}
	}
	var x, y float64
	for _, i := range f.Used {
		p := Point{readings[i].Days, readings[i].DrawdownM / startM}
		used = append(used, p)
		x, y = x+p.X/float64(len(f.Used)), y+math.Log(p.Y)/float64(len(f.Used))
	}
	out := []Curve{{CurveReadings, all}, {CurveUsed, used}}
	first, last := used[0].X, used[len(used)-1].X
	for _, m := range [...]struct {
		name CurveName
		rate float64
	}{{CurveModel, rate.Value}, {CurveLow, rate.Lo}, {CurveHigh, rate.Hi}} {
		at := func(days float64) Point { return Point{days, math.Exp(y - m.rate*(days-x))} }
		out = append(out, Curve{m.name, []Point{at(first), at(last)}})
	}
	return out, nil
}
