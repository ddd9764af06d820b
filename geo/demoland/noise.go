package demoland

import (
	"math"
	"math/rand/v2"
)

// pt is a point of the land's own frame, in metres from its middle: u along the coast,
// v inland. The frame is turned and mirrored against east and north, see [Land.frame].
type pt struct{ u, v float64 }

func (p pt) minus(q pt) pt                         { return pt{p.u - q.u, p.v - q.v} }
func (p pt) plus(q pt) pt                          { return pt{p.u + q.u, p.v + q.v} }
func (p pt) times(k float64) pt                    { return pt{p.u * k, p.v * k} }
func (p pt) dot(q pt) float64                      { return p.u*q.u + p.v*q.v }
func (p pt) length() float64                       { return math.Sqrt(p.u*p.u + p.v*p.v) }
func heading(angle float64) pt                     { return pt{math.Cos(angle), math.Sin(angle)} }
func mix(a, b, t float64) float64                  { return a + (b-a)*t }
func clamp(x, lo, hi float64) float64              { return min(max(x, lo), hi) }
func between(r *rand.Rand, lo, hi float64) float64 { return mix(lo, hi, r.Float64()) }

// ramp rises smoothly from 0 at x <= lo to 1 at x >= hi.
func ramp(x, lo, hi float64) float64 {
	t := clamp((x-lo)/(hi-lo), 0, 1)
	return t * t * (3 - 2*t)
}

// waves is how many plane waves make one field: enough that its values are close to
// normal, few enough that twenty fields cost microseconds.
const waves = 24

// field is a smooth random field of mean 0 and variance 1 that can be evaluated at any
// point on its own: a sum of plane waves whose wave numbers follow the spectrum of a
// Matérn covariance of smoothness 3/2 (a bivariate Student t of 3 degrees of freedom;
// spectral method after Shinozuka & Deodatis 1991, from memory). Directions and wave
// numbers are drawn one from each of equal shares, so that no direction stands out.
type field struct{ ku, kv, phase [waves]float64 }

func newField(r *rand.Rand, lengthM float64) *field {
	f := &field{}
	shares := r.Perm(waves)
	for i := range waves {
		beyond := (float64(shares[i]) + between(r, 0.2, 1)) / waves // the share of waves shorter than this one
		k := math.Sqrt(3*(math.Pow(beyond, -2.0/3)-1)) / lengthM
		to := heading(math.Pi * (float64(i) + r.Float64()) / waves)
		f.ku[i], f.kv[i] = k*to.u, k*to.v
		f.phase[i] = between(r, 0, 2*math.Pi)
	}
	return f
}

func (f *field) at(p pt) float64 {
	sum := 0.0
	for i := range waves {
		sum += math.Cos(f.ku[i]*p.u + f.kv[i]*p.v + f.phase[i])
	}
	return sum * math.Sqrt(2.0/waves)
}

// The fields of the land, each with its own stream of random numbers, so that adding one
// at the end leaves the others as they were.
const (
	coastField = iota
	undulationField
	planationField
	topsoilField
	crustField
	crustShareField
	mottledField
	regolithField
	grusField
	fracturedField
	fillField
	siltField
	gravelField
	duneField
	levelFarField
	levelNearField
	levelSpotField
	rangeField
	uplandKField
	fillKField
	ironField
	nitrateField
	fluorideField
	saltField
	peopleField
	basalField
	fieldCount
)

// fieldLengthM is the scale length of each field, in metres.
var fieldLengthM = [fieldCount]float64{
	coastField: 6000, undulationField: 900, planationField: 7000,
	topsoilField: 900, crustField: 1200, crustShareField: 5000, mottledField: 1500,
	regolithField: 2200, grusField: 1500, fracturedField: 1200,
	fillField: 1600, siltField: 1100, gravelField: 1500, duneField: 500,
	levelFarField: 3500, levelNearField: 1000, levelSpotField: 90, rangeField: 5000,
	uplandKField: 700, fillKField: 600,
	ironField: 2500, nitrateField: 1500, fluorideField: 4000, saltField: 1500, peopleField: 6000, basalField: 450,
}
