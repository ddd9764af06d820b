package hydraulics

import "math"

// Point is a point of a plot: days against metres unless said otherwise.
type Point struct {
	X, Y float64
}

// derivativeSpan is how far apart in ln t the neighbours of a derivative must be, so that
// a tape's centimetre does not drown it.
//
// Source: 0.1 to 0.5 is usual, Bourdet et al. (1989), from memory.
const derivativeSpan = 0.3

// Derivative returns the slope of drawdown in the natural logarithm of time at each
// reading that has neighbours far enough on both sides. It is level while a straight line
// in log t holds, rises at a barrier, sinks at a recharge, and humps while a well gives of
// its own water.
//
//   - Shapes: readings in order of time; the first and last have no slope.
//   - Units: X in d, Y in m per unit of ln t: Q/(4πT) on the straight line.
//   - Domain: times above 0.
//   - Errors: [InputError], [ErrTooFew] when no reading has two such neighbours,
//     [ErrNoAnswer] where the numbers leave the range of a float.
//   - Source: Bourdet et al. (1989), three-point slope weighted by distance.
//   - Checked by: TestDerivativeOfTheis, TestDerivativeOfLine.
func Derivative(readings []Reading) ([]Point, error) {
	if err := checkReadings(readings, 3); err != nil {
		return nil, err
	}
	var out []Point
	for i, r := range readings {
		before, after := neighbours(readings, i)
		if before < 0 || after < 0 {
			continue
		}
		left := math.Log(r.Days / readings[before].Days)
		right := math.Log(readings[after].Days / r.Days)
		slopeLeft := (r.DrawdownM - readings[before].DrawdownM) / left
		slopeRight := (readings[after].DrawdownM - r.DrawdownM) / right
		slope, err := finite((slopeLeft*right + slopeRight*left) / (left + right))
		if err != nil {
			return nil, err
		}
		out = append(out, Point{r.Days, slope})
	}
	if len(out) == 0 {
		return nil, ErrTooFew
	}
	return out, nil
}

// neighbours are the nearest readings a span before and after one, -1 where there is none.
func neighbours(readings []Reading, i int) (before, after int) {
	before, after = i-1, i+1
	for before >= 0 && math.Log(readings[i].Days/readings[before].Days) < derivativeSpan {
		before--
	}
	for after < len(readings) && math.Log(readings[after].Days/readings[i].Days) < derivativeSpan {
		after++
	}
	if after == len(readings) {
		after = -1
	}
	return before, after
}
