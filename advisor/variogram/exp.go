package variogram

import "math"

// Reduction of exp(-t) to t = k ln2/32 + r: the step in two parts, the first with
// enough zero bits that k times it is exact for every k used.
const (
	expSteps  = 32
	expStepHi = 0x1.62e42fefap-6
	expStepLo = 0x1.cf79abc9e3b3ap-45
	expMost   = 600 // beyond, exp(-t) < 1e-260: left to the library
)

// expTable holds 2^(-k/32).
var expTable = newExpTable()

func newExpTable() (t [expSteps]float64) {
	for k := range t {
		t[k] = math.Exp2(-float64(k) / expSteps)
	}
	return t
}

// expNeg is exp(-t) for t >= 0, within 2 units in the last place, in half the
// library's time. Half of a small kriging system's cost is this function.
//
// Source: Tang (1989), ACM TOMS 15, 144-157: table of 32 and a short polynomial.
func expNeg(t float64) float64 {
	if !(t < expMost) {
		return math.Exp(-t)
	}
	k := int(t*(expSteps/math.Ln2) + 0.5)
	kf := float64(k)
	r := (t - kf*expStepHi) - kf*expStepLo
	r2 := r * r
	p := r2*(0.5-r*(1.0/6)) + r2*r2*((1.0/24)-r*(1.0/120)+r2*(1.0/720)) - r
	scale := math.Float64frombits(math.Float64bits(expTable[k&(expSteps-1)]) - uint64(k>>5)<<52)
	return scale + scale*p
}
