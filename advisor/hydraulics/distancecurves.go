package hydraulics

import "math"

// DistanceCurves returns the plot of drawdowns read at one moment, or when nothing moved any
// more: places, and the line of the fit with the ends of its range, which turn about the
// middle of the used places.
//
//   - Shapes: at least 3 places; lines of 2 points, from the nearest place to the farthest.
//   - Units: X and Y in m; the lines are straight on the logarithm of X.
//   - Domain: a fit by [FitDistance] or [FitThiem] of these places.
//   - Errors: [InputError], [ErrTooFew].
//   - Source: Thiem (1906); Cooper and Jacob (1946).
//   - Checked by: TestDistanceCurves.
func DistanceCurves(dischargeM3D float64, f Fit, places []Place) ([]Curve, error) {
	if len(places) < 3 {
		return nil, ErrTooFew
	}
	if err := positive(named{"discharge", dischargeM3D}, named{"T", f.T.Value}, named{"low T", f.T.Lo}, named{"high T", f.T.Hi}); err != nil {
		return nil, err
	}
	if len(f.Used) < 3 || f.Used[len(f.Used)-1] >= len(places) {
		return nil, ErrTooFew
	}
	near, far := math.Inf(1), 0.0
	var read, used []Point
	for _, p := range places {
		if err := positive(named{"distance", p.DistanceM}); err != nil {
			return nil, err
		}
		near, far = min(near, p.DistanceM), max(far, p.DistanceM)
		read = append(read, Point{p.DistanceM, p.DrawdownM})
	}
	var x, y float64
	for _, i := range f.Used {
		used = append(used, read[i])
		x, y = x+math.Log(read[i].X)/float64(len(f.Used)), y+read[i].Y/float64(len(f.Used))
	}
	out := []Curve{{CurveReadings, read}, {CurveUsed, used}}
	for _, m := range f.ends() {
		slope := dischargeM3D / (2 * math.Pi * m.t)
		out = append(out, Curve{m.name, []Point{{near, y - slope*(math.Log(near)-x)}, {far, y - slope*(math.Log(far)-x)}}})
	}
	return out, nil
}
