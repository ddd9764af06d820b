package level

import "math"

// scale is what levels are kriged on: a logarithm z = log(y + c) or, where levels scatter
// less by their depth, a root z = 2 √(y + c); with what a reading of unknown origin errs
// by on it.
type scale struct {
	root            bool
	shift, vagueVar float64
}

// z carries a depth to the scale.
func (s scale) z(y float64) float64 {
	over := max(y+s.shift, floorM)
	if s.root {
		return 2 * math.Sqrt(over)
	}
	return math.Log(over)
}

// depth carries a place of the scale back; it is never less than -c.
func (s scale) depth(z float64) float64 {
	if s.root {
		return max(z, 0)*max(z, 0)/4 - s.shift
	}
	return math.Exp(z) - s.shift
}

// perMetre is how much of the scale a metre is at a depth.
func (s scale) perMetre(y float64) float64 {
	over := max(y+s.shift, floorM)
	if s.root {
		return 1 / math.Sqrt(over)
	}
	return 1 / over
}

// perShare is how much of the scale a share of the shifted depth is, 1 on a logarithm.
func (s scale) perShare(y float64) float64 { return s.perMetre(y) * max(y+s.shift, floorM) }

// floorM keeps a level at the very shift finite on the scale.
const floorM = 0.05

// shifts are the candidates above the highest level: small ones make the scale what it is
// called, large ones make it nearly straight.
var shifts = [...]float64{0.5, 1, 2, 4, 8, 16}

// scales lists the candidates above the highest of some lows.
func scales(lows, vagueVars []float64) (out []scale) {
	highest := 0.0
	for _, y := range lows {
		highest = max(highest, -y)
	}
	for _, root := range []bool{false, true} {
		for _, c := range shifts {
			for _, v := range vagueVars {
				out = append(out, scale{root, highest + c, v})
			}
		}
	}
	return out
}
