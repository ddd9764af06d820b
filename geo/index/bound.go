package index

import (
	"math"

	"waterstrike/geo/coord"
)

// Semi-axes of WGS 84, metres.
const (
	equatorialM = 6378137.0
	polarM      = equatorialM * (1 - 1/298.257223563)
)

// A line on the ellipsoid of longitude λ and parametric latitude β has
//
//	ds² = (a² sin²β + b² cos²β) dβ² + a² cos²β dλ² >= b² (dβ² + cos²β dλ²),
//
// so no geodesic is shorter than the polar semi-axis times the angle between the
// same (λ, β) on a sphere, and none of the usual lines is 0.7 % longer. That angle θ is
// compared by its haversine, sin²(θ/2), which needs no inverse function.

// parametric returns the parametric latitude, radians.
func parametric(latDeg float64) float64 {
	s, c := math.Sincos(latDeg * math.Pi / 180)
	return math.Atan2(polarM/equatorialM*s, c)
}

// box returns the smallest box of 32-bit floats that is sure to hold a position.
func box(p coord.LonLat) (low, high [2]float32) {
	lon, beta := p.Lon*math.Pi/180, parametric(p.Lat)
	return [2]float32{below(lon), below(beta)}, [2]float32{above(lon), above(beta)}
}

func below(x float64) float32 { return math.Nextafter32(float32(x), float32(math.Inf(-1))) }

func above(x float64) float32 { return math.Nextafter32(float32(x), float32(math.Inf(1))) }

// bound gives lower bounds of distances from one point.
type bound struct{ lon, beta, cosBeta float64 }

func boundFrom(p coord.LonLat) bound {
	beta := parametric(p.Lat)
	return bound{lon: p.Lon * math.Pi / 180, beta: beta, cosBeta: math.Cos(beta)}
}

// haversine returns a lower bound over a box of
//
//	sin²(θ/2) = sin²(Δβ/2) + cos β cos β' sin²(Δλ/2)
//
// by taking the least of each factor.
func (b bound) haversine(low, high [2]float32) float64 {
	const rounding = 1 - 1e-12 // the sum's own rounding is a thousand times smaller
	south, north := float64(low[1]), float64(high[1])
	s := math.Sin(max(south-b.beta, b.beta-north, 0) / 2)
	h := s * s
	if turn := b.turn(float64(low[0]), float64(high[0])); turn > 0 {
		s = math.Sin(turn / 2)
		h += b.cosBeta * max(math.Cos(max(-south, north)), 0) * s * s
	}
	return h * rounding
}

// turn returns the least longitude difference, in [0, π], to the range from west
// to east, going either way round.
func (b bound) turn(west, east float64) float64 {
	switch {
	case b.lon < west:
		return max(0, min(west-b.lon, b.lon+2*math.Pi-east))
	case b.lon > east:
		return max(0, min(b.lon-east, west+2*math.Pi-b.lon))
	}
	return 0
}

// haversineOf puts a true distance on the scale of the bounds: a box whose bound
// is above it holds nothing as near.
func haversineOf(distanceM float64) float64 {
	if distanceM >= math.Pi*polarM {
		return 1
	}
	s := math.Sin(distanceM / (2 * polarM))
	return s * s
}
