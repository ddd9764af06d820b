package level

import "math"

// scale is the shifted logarithm z = log(y + c) on which levels are kriged, with what a
// reading of unknown origin errs by on it.
type scale struct{ shift, vagueVar float64 }

func (s scale) z(y float64) float64 { return math.Log(max(y+s.shift, floorM)) }

// variance carries a variance in metres squared at y to the log scale.
func (s scale) variance(y, v float64) float64 {
	d := max(y+s.shift, floorM)
	return v / (d * d)
}

// floorM keeps a level at the very shift finite on the log scale.
const floorM = 0.05

// shifts are the candidates above the highest level: small ones make the scale a
// logarithm, large ones make it nearly straight.
var shifts = [...]float64{0.25, 0.5, 1, 2, 4, 8, 16}

// chooseScale takes the shift with the highest Normal likelihood of y, Jacobian included:
//
//	log L(c) = -n/2 log Var(log(y+c)) - Σ log(y+c).
func chooseScale(y []float64) scale {
	highest := 0.0
	for _, v := range y {
		highest = max(highest, -v)
	}
	best, bestLL := scale{highest + shifts[0], vagueVars[0]}, math.Inf(-1)
	for _, c := range shifts {
		s := scale{highest + c, vagueVars[0]}
		sum, square := 0.0, 0.0
		for _, v := range y {
			z := s.z(v)
			sum += z
			square += z * z
		}
		n := float64(len(y))
		ll := -n/2*math.Log(max(square/n-sum/n*sum/n, 1e-12)) - sum
		if ll > bestLL {
			best, bestLL = s, ll
		}
	}
	return best
}
