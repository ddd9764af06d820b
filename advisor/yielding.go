package advisor

import (
	"math"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/strata"
)

// yielding is what is believed of the transmissivity of some ground: its middle, and as
// sums weighed by it the standard deviations of log10 K, of the region's mean and of the
// layers around it. Layers of one window are taken to be high or low together, which for
// several kinds of ground in one window is a little too wide.
type yielding struct {
	t      float64 // m²/d
	region float64 // m²/d times decades
	layer  float64
}

// cellOf is what one cell of a material gives.
func cellOf(b hydraulics.Belief) yielding {
	t := b.MetresPerDay() * strata.CellM
	layer := math.Sqrt(max(b.SDDecades*b.SDDecades-b.MeanSDDecades*b.MeanSDDecades, 0))
	return yielding{t, t * b.MeanSDDecades, t * layer}
}

// plus adds so many cells of other ground.
func (y yielding) plus(o yielding, cells float64) yielding {
	return yielding{y.t + cells*o.t, y.region + cells*o.region, y.layer + cells*o.layer}
}

// decades returns the two standard deviations of log10 T.
func (y yielding) decades() (region, layer float64) { return y.region / y.t, y.layer / y.t }

// bands are equal slices of what may be of the region's conductivities as a whole; bandAt
// is the middle of each, in standard deviations. The middles are spread by a little less
// than the whole; what is missing is added to the layers.
const bands = 4

var bandAt = [bands]float64{-1.1503, -0.3186, 0.3186, 1.1503}

// bandVar is the variance of the middles.
const bandVar = (1.1503*1.1503 + 0.3186*0.3186) / 2

// passes returns, for every band, the chance that the ground gives so many times what is
// needed or more, when its middle gives enough times as much.
func (y yielding) passes(enough float64) (p [bands]float64) {
	region, layer := y.decades()
	sd := math.Sqrt(layer*layer + (1-bandVar)*region*region)
	over := math.Log10(enough)
	for i, z := range bandAt {
		p[i] = normalCDF((over + z*region) / sd)
	}
	return p
}

func mean(p [bands]float64) float64 {
	sum := 0.0
	for _, x := range p {
		sum += x
	}
	return sum / bands
}
