package hydraulics

// RatesCurves returns the plot of a piezometer beside a well whose discharge changed:
// readings, and the drawdown that the fit and the ends of its range give.
//
//   - Shapes: at least 2 readings in order of time; curves of the model have 121 points
//     evenly spaced in time up to the last reading.
//   - Units: X in d, Y in m.
//   - Domain: a fit by [FitRates]. At the ends of T's range S keeps S·T, as in [Curves].
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer].
//   - Source: superposition; Theis (1935).
//   - Checked by: TestRatesCurves.
func RatesCurves(rates []Rate, rM float64, f Fit, readings []Reading) ([]Curve, error) {
	if err := checkReadings(readings, 2); err != nil {
		return nil, err
	}
	a := f.Aquifer(0)
	all := points(readings, from(0, len(readings)))
	out := []Curve{{CurveReadings, all}, {CurveUsed, all}}
	for _, m := range f.ends() {
		line, err := evenly(readings, func(days float64) (float64, error) {
			return TheisRates(Aquifer{m.t, a.Storage * a.TM2D / m.t}, rates, rM, days)
		})
		if err != nil {
			return nil, err
		}
		out = append(out, Curve{m.name, line})
	}
	return out, nil
}

// Curves returns the plot of the well itself: readings, those that were used, and the fit.
//
//   - Shapes, Units: as [RatesCurves], without the ends of a range.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer].
//   - Checked by: TestRatesCurves.
func (v Varied) Curves(readings []Reading) ([]Curve, error) {
	if err := checkReadings(readings, 2); err != nil {
		return nil, err
	}
	if len(v.Used) == 0 || v.Used[len(v.Used)-1] >= len(readings) {
		return nil, ErrTooFew
	}
	line, err := evenly(readings, func(days float64) (float64, error) { return finite(v.Drawdown(days)) })
	if err != nil {
		return nil, err
	}
	return []Curve{{CurveReadings, points(readings, from(0, len(readings)))}, {CurveUsed, points(readings, v.Used)}, {CurveModel, line}}, nil
}

// evenly draws a curve over the time of the readings, from its first part on.
func evenly(readings []Reading, s func(days float64) (float64, error)) ([]Point, error) {
	const parts = 2 * curvePoints
	last := readings[len(readings)-1].Days
	var out []Point
	for i := range parts {
		days := last * float64(i+1) / parts
		v, err := s(days)
		if err != nil {
			return nil, err
		}
		out = append(out, Point{days, v})
	}
	return out, nil
}
