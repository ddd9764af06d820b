package hydraulics

import "math"

// Step is the drawdown that a discharge makes in the pumped well after a set time; in a
// test of steps that follow on each other, the sum of their increments at that time.
type Step struct {
	DischargeM3D float64
	DrawdownM    float64
}

// StepFit parts a well's drawdown into what the ground causes and what the well does,
//
//	s = B Q + C Q^P.
type StepFit struct {
	B     Estimate // d/m²
	C     float64  // d^P/m^(3P-1); d²/m⁵ for P = 2; below 0 where the well cleared itself while pumped
	CErr  float64  // standard error of C
	CLo   float64  // C in 95 cases of 100 lies from here
	CHi   float64  // to here
	Power float64
	RMSM  float64
	Signs []Sign
}

// FitSteps parts a step test with a loss by the square of the discharge: a straight line
// of s/Q against Q.
//
//   - Shapes: at least 3 steps at different discharges.
//   - Units: m³/d, m.
//   - Domain: discharges above 0, drawdowns above 0, steps of one length.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer] when the ground's part is not above
//     0, [ErrOpen].
//   - Source: Jacob (1947); Hantush (1964) and Bierschenk (1963) for the line.
//   - Checked by: TestFitStepsClark, TestFitStepsLaws, ExampleFitSteps.
func FitSteps(steps []Step) (StepFit, error) {
	if err := checkSteps(steps); err != nil {
		return StepFit{}, err
	}
	return fitPower(steps, 2, len(steps)-2)
}

// FitRorabaugh parts a step test with a loss by whichever power from 1.5 to 3.5 fits best.
//
//   - Shapes: at least 4 steps at different discharges.
//   - Units: m³/d, m.
//   - Domain: as [FitSteps]. A power at either end of its range is a sign that the steps
//     do not tell it: take FitSteps.
//   - Errors: as [FitSteps].
//   - Source: Rorabaugh (1953), the range from memory of Lennox (1966).
//   - Checked by: TestFitRorabaugh.
func FitRorabaugh(steps []Step) (StepFit, error) {
	if err := checkSteps(steps); err != nil {
		return StepFit{}, err
	}
	if len(steps) < 4 {
		return StepFit{}, ErrTooFew
	}
	cost := func(power float64) float64 {
		f, err := fitPower(steps, power, len(steps)-3)
		if err != nil {
			return math.Inf(1)
		}
		return f.RMSM
	}
	return fitPower(steps, golden(cost, 1.5, 3.5), len(steps)-3)
}

func checkSteps(steps []Step) error {
	if len(steps) < 3 {
		return ErrTooFew
	}
	for _, s := range steps {
		if err := positive(named{"discharge", s.DischargeM3D}, named{"drawdown", s.DrawdownM}); err != nil {
			return err
		}
	}
	return nil
}

// fitPower fits the line of s/Q against Q^(P-1). Discharges are taken as shares of their
// mean, so that C does not vanish beside B.
func fitPower(steps []Step, power float64, dof int) (StepFit, error) {
	scale := 0.0
	for _, s := range steps {
		scale += s.DischargeM3D / float64(len(steps))
	}
	x, y := make([]float64, len(steps)), make([]float64, len(steps))
	for i, s := range steps {
		x[i], y[i] = math.Pow(s.DischargeM3D/scale, power-1), s.DrawdownM/s.DischargeM3D*scale
	}
	l, err := fitLine(x, y)
	if err != nil {
		return StepFit{}, err
	}
	b, err := fitted(l.a/scale, math.Sqrt(l.varA)/l.a, dof)
	if err != nil {
		return StepFit{}, err
	}
	unit := math.Pow(scale, power)
	f := StepFit{B: b, C: l.b / unit, CErr: math.Sqrt(l.varB) / unit, Power: power}
	f.CLo, f.CHi = f.C-student(dof)*f.CErr, f.C+student(dof)*f.CErr
	if len(steps) < 4 {
		f.Signs = append(f.Signs, FewReadings)
	}
	var sum float64
	for _, s := range steps {
		rest := s.DrawdownM - f.drawdown(s.DischargeM3D)
		sum += rest * rest
	}
	f.RMSM = math.Sqrt(sum / float64(len(steps)))
	_, err = finite(f.RMSM + f.C + f.CErr)
	return f, err
}

func (f StepFit) drawdown(dischargeM3D float64) float64 {
	return f.B.Value*dischargeM3D + f.C*math.Pow(dischargeM3D, f.Power)
}
