package hydraulics

// StepCurves returns the plot of a step test: what each cubic metre a day cost in drawdown,
// and the fit through it.
//
//   - Shapes: at least 2 steps; the fit has 61 points from 0 to the greatest discharge,
//     where it begins at B.
//   - Units: X in m³/d, Y in d/m², that is s/Q.
//   - Domain: a fit of these steps.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer].
//   - Source: Bierschenk (1963).
//   - Checked by: TestStepCurves.
func StepCurves(f StepFit, steps []Step) ([]Curve, error) {
	if len(steps) < 2 {
		return nil, ErrTooFew
	}
	var read, model []Point
	most := 0.0
	for _, s := range steps {
		if err := positive(named{"discharge", s.DischargeM3D}, named{"drawdown", s.DrawdownM}); err != nil {
			return nil, err
		}
		read = append(read, Point{s.DischargeM3D, s.DrawdownM / s.DischargeM3D})
		most = max(most, s.DischargeM3D)
	}
	for i := range curvePoints {
		q := most * float64(i+1) / curvePoints
		s, err := f.Drawdown(q)
		if err != nil {
			return nil, err
		}
		model = append(model, Point{q, s / q})
	}
	model = append([]Point{{0, f.B.Value}}, model...)
	return []Curve{{CurveReadings, read}, {CurveModel, model}}, nil
}
