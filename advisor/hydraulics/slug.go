package hydraulics

import "math"

// SlugFit is the straight line of the logarithm of a displacement against time.
type SlugFit struct {
	RatePerDay Estimate // at which the displacement dies: 1/T₀
	StartM     float64  // where the line begins
	Used       []int
	Signs      []Sign
}

// The shares of the first displacement between which readings are used: above, a pack
// may still drain; below, a tape cannot tell.
//
// Source: common practice, no source; Butler (1998) advises narrower windows for readings
// far denser than a hand's, from memory.
const (
	slugFrom = 0.9
	slugTo   = 0.1
)

// FitSlug fits a straight line to the logarithm of a displacement against time.
//
//   - Shapes: at least 4 readings in order of time, 3 of them between 90 and 10 % of the
//     first displacement.
//   - Units: startM is the displacement at once, m; d; the rate in 1/d.
//   - Domain: displacements of one sign, given without it.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer], [ErrOpen].
//   - Source: Hvorslev (1951); Bouwer and Rice (1976).
//   - Checked by: TestFitSlug.
func FitSlug(startM float64, readings []Reading) (SlugFit, error) {
	if err := positive(named{"first displacement", startM}); err != nil {
		return SlugFit{}, err
	}
	if err := checkReadings(readings, 4); err != nil {
		return SlugFit{}, err
	}
	var f SlugFit
	var x, y []float64
	for i, r := range readings {
		if share := r.DrawdownM / startM; share <= slugFrom && share >= slugTo {
			f.Used = append(f.Used, i)
			x, y = append(x, r.Days), append(y, math.Log(r.DrawdownM))
		}
	}
	l, err := fitLine(x, y)
	if err != nil {
		return SlugFit{}, err
	}
	f.StartM = math.Exp(l.a)
	f.Signs = logDoubts(l.rest)
	f.RatePerDay, err = fitted(-l.b, l.spread(0, 1/l.b), l.dof)
	return f, err
}

// bentShare is how far a displacement may run from its line, on its logarithm, before the
// line is called bent; common practice, no source.
const bentShare = 0.03

// logDoubts are the [doubts] of a line of logarithms.
func logDoubts(rest []float64) []Sign {
	var all []Sign
	n := float64(len(rest))
	if len(rest) < fewReadings {
		return append(all, FewReadings)
	}
	if math.Sqrt(sumSquares(rest)/n) > bentShare && lagOne(rest) > max(unevenLeast, 2/math.Sqrt(n)) {
		all = append(all, Uneven)
	}
	return all
}

// PackRadius returns the radius that a water surface has in effect where it falls within
// the screen and the pack drains with the pipe,
//
//		r = √((1-n) r_c² + n R²).
//
//	  - Units: metres; porosity dimensionless.
//	  - Domain: 0 < pipeM <= holeM, porosity in (0,1).
//	  - Errors: [InputError].
//	  - Source: Bouwer (1989), from memory.
//	  - Checked by: TestPackRadius.
func PackRadius(pipeM, holeM, porosity float64) (float64, error) {
	if err := positive(named{"pipe", pipeM}, named{"hole", holeM}, named{"porosity", porosity}); err != nil {
		return 0, err
	}
	if pipeM > holeM || porosity >= 1 {
		return 0, &InputError{"porosity", porosity, "a share, and a pipe no wider than its hole"}
	}
	return finite(math.Sqrt((1-porosity)*pipeM*pipeM + porosity*holeM*holeM))
}
