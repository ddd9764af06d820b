package coord

import "math"

// antipodal solves the inverse problem by bisection on the azimuth at the first
// point. With the first point south and farther from the equator than the
// second, and lon in [0, π], longitude grows with the azimuth and the shortest
// geodesic is the single root. Source: Karney (2013), section 4.
func (e ellipsoid) antipodal(p1, p2 parametric, lon float64) geodesic {
	east, north := math.Copysign(1, lon), 1.0
	swap := math.Abs(p1.sin) < math.Abs(p2.sin)
	if swap {
		p1, p2 = p2, p1
		north = -north
	}
	if p1.sin > 0 {
		p1.sin, p2.sin = -p1.sin, -p2.sin
		north = -north
	}
	l := e.bisect(p1, p2, math.Abs(lon))
	g := geodesic{lengthM: e.bM * lengthIntegral(l.k2, l.sigma1, l.sigma12)}
	if swap {
		g.sinAz, g.cosAz = east*l.sinAz2, north*l.cosAz2
	} else {
		g.sinAz, g.cosAz = east*l.sinAz, north*l.cosAz
	}
	return g
}

// longLine is an arc continued to the second latitude, going north there.
type longLine struct {
	arc
	sinAz2, cosAz2 float64
	lon            float64 // longitude spanned on the ellipsoid
}

func (e ellipsoid) bisect(p1, p2 parametric, lon float64) longLine {
	if p1.sin == 0 {
		p1.sin = -math.SmallestNonzeroFloat64 // so that westward and eastward starts differ
	}
	low, high := 0.0, math.Pi
	const steps = 60 // halves π down to the spacing of doubles near π
	for range steps {
		mid := (low + high) / 2
		if e.longLine(p1, p2, mid).lon < lon {
			low = mid
		} else {
			high = mid
		}
	}
	return e.longLine(p1, p2, (low+high)/2)
}

func (e ellipsoid) longLine(p1, p2 parametric, azimuth float64) longLine {
	sinAz, cosAz := math.Sincos(azimuth)
	l := longLine{arc: e.fromAzimuth(p1, sinAz, cosAz)}
	north1 := cosAz * p1.cos
	north2 := math.Sqrt(north1*north1 + (p1.sin-p2.sin)*(p1.sin+p2.sin))
	l.sigma12 = math.Atan2(p2.sin, north2) - l.sigma1
	omega := math.Atan2(l.sinAz0*p2.sin, north2) - math.Atan2(l.sinAz0*p1.sin, north1)
	l.lon = omega - e.f*l.sinAz0*e.lonIntegral(l.k2, l.sigma1, l.sigma12)
	l.sinAz2, l.cosAz2 = l.sinAz0/p2.cos, north2/p2.cos
	return l
}
