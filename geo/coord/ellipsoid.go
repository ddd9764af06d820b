package coord

import "math"

// ellipsoid is a figure of the earth with the constants derived from it.
type ellipsoid struct {
	aM, bM float64 // equatorial and polar semi-axes, metres
	f      float64 // flattening
	e2     float64 // first eccentricity squared
	ep2    float64 // second eccentricity squared
	n      float64 // third flattening
}

func newEllipsoid(aM, inverseFlattening float64) ellipsoid {
	f := 1 / inverseFlattening
	e2 := f * (2 - f)
	return ellipsoid{aM: aM, bM: aM * (1 - f), f: f, e2: e2, ep2: e2 / (1 - e2), n: f / (2 - f)}
}

// Two ellipsoids go by the name Clarke 1880 in Africa; they differ by 0.1 m in
// the polar axis. Source: EPSG dataset, ellipsoids 7030, 7012 and 7013.
var (
	wgs84         = newEllipsoid(6378137, 298.257223563)
	clarke1880RGS = newEllipsoid(6378249.145, 293.465)
	clarke1880Arc = newEllipsoid(6378249.145, 293.4663077)
)

// vec is a geocentric Cartesian position in metres.
type vec struct{ x, y, z float64 }

// cartesian returns the geocentric position of a point on the ellipsoid.
func (e ellipsoid) cartesian(p LonLat) vec {
	sinLat, cosLat := sincosDeg(p.Lat)
	sinLon, cosLon := sincosDeg(p.Lon)
	nu := e.aM / math.Sqrt(1-e.e2*sinLat*sinLat)
	return vec{nu * cosLat * cosLon, nu * cosLat * sinLon, nu * (1 - e.e2) * sinLat}
}

// geodetic returns the foot on the ellipsoid of a geocentric position near it.
// Bowring's formula (1985), whose error below 10 km height is under 1e-9 degrees,
// iterated once more on the parametric latitude.
func (e ellipsoid) geodetic(v vec) LonLat {
	p := math.Hypot(v.x, v.y)
	beta := math.Atan2(e.aM*v.z, e.bM*p)
	var lat float64
	for range 2 {
		s, c := math.Sincos(beta)
		lat = math.Atan2(v.z+e.ep2*e.bM*s*s*s, p-e.e2*e.aM*c*c*c)
		sinLat, cosLat := math.Sincos(lat)
		beta = math.Atan2((1-e.f)*sinLat, cosLat)
	}
	return LonLat{Lon: math.Atan2(v.y, v.x) / radian, Lat: lat / radian}
}

// parametric is the sine and cosine of a parametric (reduced) latitude β,
// tan β = (1-f) tan φ. The cosine is never zero, so that a line from a pole keeps
// its direction.
type parametric struct{ sin, cos float64 }

func (e ellipsoid) parametric(latDeg float64) parametric {
	s, c := sincosDeg(latDeg)
	s *= 1 - e.f
	h := math.Sqrt(s*s + c*c)
	return parametric{s / h, max(c/h, 1e-300)}
}
