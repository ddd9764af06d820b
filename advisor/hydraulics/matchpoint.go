package hydraulics

import "math"

// Match is where a plot of readings lies on the type curve of [W], found by eye: the
// drawdown and time that fall on a chosen W and u.
type Match struct {
	W, U            float64
	DrawdownM, Days float64
}

// MatchPoint returns the aquifer of a match by eye,
//
//		T = Q W/(4πs),  S = 4 T u t/r².
//
//	  - Units: m³/d, m, d; any other units of length and time that agree with each other do
//	    as well.
//	  - Domain: all above 0.
//	  - Errors: [InputError], [ErrNoAnswer].
//	  - Source: Theis (1935) and the graphical method of every textbook.
//	  - Checked by: TestMatchPoints.
func MatchPoint(m Match, dischargeM3D, rM float64) (Aquifer, error) {
	if err := positive(named{"W", m.W}, named{"u", m.U}, named{"drawdown", m.DrawdownM}, named{"time", m.Days},
		named{"discharge", dischargeM3D}, named{"distance", rM}); err != nil {
		return Aquifer{}, err
	}
	a := Aquifer{TM2D: dischargeM3D * m.W / (4 * math.Pi * m.DrawdownM)}
	a.Storage = 4 * a.TM2D * m.U * m.Days / (rM * rM)
	if positive(named{"", a.TM2D}, named{"", a.Storage}) != nil {
		return Aquifer{}, ErrNoAnswer
	}
	return a, nil
}
