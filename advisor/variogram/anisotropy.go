package variogram

import "math"

// Anisotropy is a geometric anisotropy: likeness reaches farthest along one
// azimuth and Ratio times as far across it. The zero value is no anisotropy.
type Anisotropy struct {
	AzimuthDeg float64 // clockwise from grid north
	Ratio      float64 // minor / major range, above 0, at most 1
}

// NewAnisotropy returns a checked anisotropy.
//
//   - Units: azimuthDeg in degrees clockwise from grid north.
//   - Errors: [*ParameterError] for a non-finite azimuth or a ratio outside (0, 1].
//   - Source: Chilès and Delfiner (2012), Geostatistics, section 2.5.2.
func NewAnisotropy(azimuthDeg, ratio float64) (Anisotropy, error) {
	if !finite(azimuthDeg) {
		return Anisotropy{}, &ParameterError{Name: "azimuth", Value: azimuthDeg, Want: "a finite angle"}
	}
	if !(ratio > 0 && ratio <= 1) {
		return Anisotropy{}, &ParameterError{Name: "anisotropy ratio", Value: ratio, Want: "above 0, at most 1"}
	}
	return Anisotropy{azimuthDeg, ratio}, nil
}

// Reduce maps a position to the plane where the field is isotropic with the
// major range. Search, fit and prediction must all use reduced positions: nearest
// by plain distance are not the nearest in likeness. The map is linear; without
// anisotropy the position stays as it is.
func (a Anisotropy) Reduce(p XY) XY {
	if a == (Anisotropy{}) {
		return p
	}
	sin, cos := math.Sincos(a.AzimuthDeg * math.Pi / 180)
	return XY{X: p.X*sin + p.Y*cos, Y: (p.X*cos - p.Y*sin) / a.Ratio}
}

// reduceAll returns reduced positions, the given ones when there is nothing to do.
func (a Anisotropy) reduceAll(points []XY) []XY {
	if a == (Anisotropy{}) {
		return points
	}
	out := make([]XY, len(points))
	for i, p := range points {
		out[i] = a.Reduce(p)
	}
	return out
}
