package hydraulics

import "math"

// CurveName says what a curve of a plot shows.
type CurveName string

// The curves.
const (
	CurveReadings   CurveName = "readings"   // as taken
	CurveUsed       CurveName = "used"       // those that the fit rests on
	CurveModel      CurveName = "model"      // what the fit says
	CurveLow        CurveName = "model-low"  // the same at the low end of T's range
	CurveHigh       CurveName = "model-high" // and at the high end
	CurveDerivative CurveName = "derivative" // see [Derivative]
)

// Curve is one line or cloud of a plot.
type Curve struct {
	Name   CurveName
	Points []Point
}

// curvePoints is how many points draw a smooth curve.
const curvePoints = 60

// Curves returns the plot of a test: readings, which of them were used, the drawdown that
// the fit and the ends of its range give, and the derivative where it can be taken.
//
//   - Shapes: at least 2 readings in order of time; curves of the model have 60 points
//     evenly spaced in log time over the readings.
//   - Units: X in d, Y in m.
//   - Domain: a fit of drawdown; storage stands in where the fit has none. At the ends of
//     T's range S keeps S·T, about as the fit trades one for the other.
//   - Errors: [InputError], [ErrTooFew].
//   - Source: Theis (1935); [StoredWell] for readings in the pumped well.
//   - Checked by: TestCurves.
func Curves(p Pumping, f Fit, storage float64, readings []Reading) ([]Curve, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := checkReadings(readings, 2); err != nil {
		return nil, err
	}
	if len(f.Used) > 0 && f.Used[len(f.Used)-1] >= len(readings) {
		return nil, ErrTooFew
	}
	a := f.Aquifer(storage)
	if err := a.check(p.DischargeM3D, p.DistanceM, readings[0].Days); err != nil {
		return nil, err
	}
	out := []Curve{{CurveReadings, points(readings, from(0, len(readings)))}, {CurveUsed, points(readings, f.Used)}}
	for _, m := range f.ends() {
		line, err := p.model(Aquifer{m.t, a.Storage * a.TM2D / m.t}, readings)
		if err != nil {
			return nil, err
		}
		out = append(out, Curve{m.name, line})
	}
	if slope, err := Derivative(readings); err == nil {
		out = append(out, Curve{CurveDerivative, slope})
	}
	return out, nil
}

// end is a T for which a curve is drawn.
type end struct {
	name CurveName
	t    float64
}

// ends are the middle of a fit's T and the ends of its range.
func (f Fit) ends() [3]end {
	return [3]end{{CurveModel, f.T.Value}, {CurveLow, f.T.Lo}, {CurveHigh, f.T.Hi}}
}

func points(readings []Reading, at []int) []Point {
	var out []Point
	for _, i := range at {
		out = append(out, Point{readings[i].Days, readings[i].DrawdownM})
	}
	return out
}

// model draws the drawdown over the time of the readings.
func (p Pumping) model(a Aquifer, readings []Reading) ([]Point, error) {
	if err := a.check(p.DischargeM3D, p.DistanceM, 1); err != nil {
		return nil, err
	}
	first, last := readings[0].Days, readings[len(readings)-1].Days
	out := make([]Point, curvePoints)
	for i := range out {
		days := first * math.Pow(last/first, float64(i)/(curvePoints-1))
		s := a.theis(p.DischargeM3D, p.DistanceM, days)
		if p.OpenRadiusM > 0 {
			s = p.DischargeM3D * a.stored(Well{p.DistanceM, p.OpenRadiusM}, days)
		}
		if _, err := finite(s); err != nil {
			return nil, err
		}
		out[i] = Point{days, s}
	}
	return out, nil
}
