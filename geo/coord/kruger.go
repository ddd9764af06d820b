package coord

import (
	"math"
	"math/cmplx"
)

// seriesOrder is the order in the third flattening n of the Krüger series.
const seriesOrder = 6

// kruger is a transverse Mercator projection of scale 1 on its meridian.
// Source: Krüger (1912) extended to n⁶ by Karney, Transverse Mercator with an
// accuracy of a few nanometers, J. Geodesy 85 (2011), eqs. 7-36; the error is
// under 5 nm within 3,900 km of the meridian.
type kruger struct {
	ellipsoid
	e           float64 // eccentricity
	radiusM     float64 // rectifying radius
	alpha, beta [seriesOrder + 1]float64
}

func newKruger(e ellipsoid) kruger {
	n := e.n
	n2, n4 := n*n, n*n*n*n
	return kruger{
		ellipsoid: e, e: math.Sqrt(e.e2),
		radiusM: e.aM / (1 + n) * (1 + n2/4 + n4/64 + n2*n4/256),
		alpha:   series(n, krugerAlpha), beta: series(n, krugerBeta),
	}
}

// krugerAlpha and krugerBeta hold, for each harmonic j, the coefficients of
// nʲ, nʲ⁺¹ ... n⁶. Source: Karney (2011), eqs. 35 and 36.
var (
	krugerAlpha = [seriesOrder + 1][]float64{
		1: {1. / 2, -2. / 3, 5. / 16, 41. / 180, -127. / 288, 7891. / 37800},
		2: {13. / 48, -3. / 5, 557. / 1440, 281. / 630, -1983433. / 1935360},
		3: {61. / 240, -103. / 140, 15061. / 26880, 167603. / 181440},
		4: {49561. / 161280, -179. / 168, 6601661. / 7257600},
		5: {34729. / 80640, -3418889. / 1995840},
		6: {212378941. / 319334400},
	}
	krugerBeta = [seriesOrder + 1][]float64{
		1: {1. / 2, -2. / 3, 37. / 96, -1. / 360, -81. / 512, 96199. / 604800},
		2: {1. / 48, 1. / 15, -437. / 1440, 46. / 105, -1118711. / 3870720},
		3: {17. / 480, -37. / 840, -209. / 4480, 5569. / 90720},
		4: {4397. / 161280, -11. / 504, -830251. / 7257600},
		5: {4583. / 161280, -108847. / 3991680},
		6: {20648693. / 638668800},
	}
)

func series(n float64, table [seriesOrder + 1][]float64) (out [seriesOrder + 1]float64) {
	for j, row := range table {
		power := math.Pow(n, float64(j))
		for _, c := range row {
			out[j] += c * power
			power *= n
		}
	}
	return out
}

// forward projects a latitude and a longitude from the meridian, degrees, to
// metres, with grid convergence (degrees) and scale.
func (k kruger) forward(lonDeg, latDeg float64) (xM, yM float64, f Factors) {
	sinLat, cosLat := sincosDeg(latDeg)
	sinLon, cosLon := sincosDeg(lonDeg)
	tau := k.conformalTan(sinLat / cosLat)
	h := math.Hypot(tau, cosLon)
	sphere := complex(math.Atan2(tau, cosLon), math.Asinh(sinLon/h))
	z := sphere + sinSeries(k.alpha, sphere)
	stretch := 1 + cosSeries(derivative(k.alpha), sphere)
	turn := math.Atan2(tau*sinLon, cosLon*math.Hypot(1, tau)) - cmplx.Phase(stretch)
	scale := math.Sqrt(1-k.e2*sinLat*sinLat) / (cosLat * h) * k.radiusM / k.aM * cmplx.Abs(stretch)
	return k.radiusM * imag(z), k.radiusM * real(z), Factors{ConvergenceDeg: turn / radian, Scale: scale}
}

// inverse is the reverse of forward.
func (k kruger) inverse(xM, yM float64) (lonDeg, latDeg float64) {
	z := complex(yM/k.radiusM, xM/k.radiusM)
	sphere := z - sinSeries(k.beta, z)
	sinXi, cosXi := math.Sincos(real(sphere))
	sinhEta := math.Sinh(imag(sphere))
	tau := k.geodeticTan(sinXi / math.Hypot(sinhEta, cosXi))
	return math.Atan2(sinhEta, cosXi) / radian, math.Atan(tau) / radian
}

// conformalTan turns the tangent of a geodetic latitude into that of the
// conformal latitude (eqs. 7-9).
func (k kruger) conformalTan(tau float64) float64 {
	sec := math.Hypot(1, tau)
	sigma := math.Sinh(k.e * math.Atanh(k.e*tau/sec))
	return tau*math.Hypot(1, sigma) - sigma*sec
}

// geodeticTan inverts conformalTan by Newton's method (eqs. 19-21).
func (k kruger) geodeticTan(conformal float64) float64 {
	tau := conformal / (1 - k.e2)
	for range 5 {
		t := k.conformalTan(tau)
		step := (conformal - t) / math.Hypot(1, t) * (1 + (1-k.e2)*tau*tau) / ((1 - k.e2) * math.Hypot(1, tau))
		tau += step
		if math.Abs(step) <= 1e-15*math.Hypot(1, tau) {
			break
		}
	}
	return tau
}

// sinSeries returns Σ cⱼ sin 2jz by Clenshaw summation.
func sinSeries(c [seriesOrder + 1]float64, z complex128) complex128 {
	b1, _ := clenshaw(c, z)
	return cmplx.Sin(2*z) * b1
}

// cosSeries returns Σ cⱼ cos 2jz by Clenshaw summation.
func cosSeries(c [seriesOrder + 1]float64, z complex128) complex128 {
	b1, b2 := clenshaw(c, z)
	return cmplx.Cos(2*z)*b1 - b2
}

func clenshaw(c [seriesOrder + 1]float64, z complex128) (b1, b2 complex128) {
	twice := 2 * cmplx.Cos(2*z)
	for j := seriesOrder; j > 0; j-- {
		b1, b2 = complex(c[j], 0)+twice*b1-b2, b1
	}
	return b1, b2
}

// derivative returns the coefficients 2j cⱼ of the series' derivative.
func derivative(c [seriesOrder + 1]float64) [seriesOrder + 1]float64 {
	for j := range c {
		c[j] *= 2 * float64(j)
	}
	return c
}
