package coord

import "math"

const radian = math.Pi / 180 // radians in a degree

// sincosDeg is exact at multiples of 90 degrees and keeps full precision near
// the poles, where the sine and cosine of a rounded π/2 do not.
func sincosDeg(deg float64) (sin, cos float64) {
	switch {
	case deg > 45 && deg <= 135:
		c, s := math.Sincos((deg - 90) * radian)
		return s, 0 - c // no negative zero
	case deg < -45 && deg >= -135:
		c, s := math.Sincos((deg + 90) * radian)
		return -s, c
	}
	return math.Sincos(deg * radian)
}

// wrapDeg brings a longitude into [-180, 180].
func wrapDeg(deg float64) float64 { return math.Remainder(deg, 360) }
