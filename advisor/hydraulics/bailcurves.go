package hydraulics

// BailCurves returns the plot of a bailer test: what was read since bailing ended, and the
// rise that the fit and the ends of its range give.
//
//   - Shapes: at least 1 reading, of which the first may be of the moment when bailing ended;
//     curves of the model have 61 points evenly spaced from then to the last reading.
//   - Units: X in d, Y in m.
//   - Domain: an estimate by [FitBailer]; the storage is that which it takes as usual.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer].
//   - Source: as [Bail].
//   - Checked by: TestBailCurves.
func BailCurves(b Bailed, t Estimate, read []Point) ([]Curve, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	if len(read) == 0 || !(read[len(read)-1].X > 0) {
		return nil, ErrTooFew
	}
	last := read[len(read)-1].X * minutesPerDay
	out := []Curve{{CurveReadings, read}, {CurveUsed, read}}
	for _, m := range (Fit{T: t}).ends() {
		a := Aquifer{m.t, bailedStorage}
		if err := a.check(1, b.RadiusM, 1); err != nil {
			return nil, err
		}
		line := []Point{{0, b.most(a)}}
		for i := 1; i <= curvePoints; i++ {
			min := last * float64(i) / curvePoints
			left, err := finite(a.left(b, min))
			if err != nil {
				return nil, err
			}
			line = append(line, Point{min / minutesPerDay, left})
		}
		out = append(out, Curve{m.name, line})
	}
	return out, nil
}
