package hydraulics

import "math"

// RecoveryCurves returns the plot of a recovery: readings and those used against t/t′, and
// the line of the fit with the ends of its range, which turn about the middle of the used
// readings.
//
//   - Shapes: at least 2 readings in order of time; lines of 2 points, from t/t′ = 1 to
//     the first reading.
//   - Units: X is t/t′, dimensionless, above 1; Y in m.
//   - Domain: a fit by [FitRecovery] of these readings.
//   - Errors: [InputError], [ErrTooFew].
//   - Source: Theis (1935).
//   - Checked by: TestRecoveryCurves.
func RecoveryCurves(s Stopped, f Fit, readings []Reading) ([]Curve, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := checkReadings(readings, 2); err != nil {
		return nil, err
	}
	if err := positive(named{"pumped time", s.PumpedDays}, named{"T", f.T.Value}, named{"low T", f.T.Lo}, named{"high T", f.T.Hi}); err != nil {
		return nil, err
	}
	if len(f.Used) == 0 || f.Used[len(f.Used)-1] >= len(readings) {
		return nil, ErrTooFew
	}
	all, used := s.ratios(readings, from(0, len(readings))), s.ratios(readings, f.Used)
	var x, y float64
	for _, p := range used {
		x, y = x+math.Log(p.X)/float64(len(used)), y+p.Y/float64(len(used))
	}
	out := []Curve{{CurveReadings, all}, {CurveUsed, used}}
	for _, m := range f.ends() {
		slope := s.DischargeM3D / (4 * math.Pi * m.t)
		out = append(out, Curve{m.name, []Point{{1, y - slope*x}, {all[0].X, y + slope*(math.Log(all[0].X)-x)}}})
	}
	return out, nil
}

// ratios are readings against t/t′.
func (s Stopped) ratios(readings []Reading, at []int) []Point {
	var out []Point
	for _, i := range at {
		out = append(out, Point{1 + s.PumpedDays/readings[i].Days, readings[i].DrawdownM})
	}
	return out
}
