package level

import "math"

// knots divide the year into half months: a course is given at the beginning of each and
// straight between them.
const knots = 24

// knotted returns how much each knot counts at a time of the year.
func knotted(year float64) (out [knots]float64) {
	place := math.Mod(year, 1) * knots
	i := int(place)
	part := place - float64(i)
	out[i%knots] += 1 - part
	out[(i+1)%knots] += part
	return out
}

// shape is a course of the year: the share of the range above the low at each knot, 0 at
// the low and 1 at the high.
type shape [knots]float64

// What shapes are tried: the water rises with the rains, within so many knots, and falls
// from then on to the next low.
var (
	risesIn = [...]int{4, 6, 8, 10, 12}
	falls   = [...]func(x float64) float64{
		func(x float64) float64 { return (1 + math.Cos(math.Pi*x)) / 2 },
		recession(0.5), recession(1.5), recession(3),
	}
)

// recession falls by the exponential of k times the share x of the way to the next low; one
// of 0.5 is nearly straight.
func recession(k float64) func(x float64) float64 {
	return func(x float64) float64 { return (math.Exp(-k*x) - math.Exp(-k)) / (1 - math.Exp(-k)) }
}

// shapes lists all that are tried, the low at each knot in turn.
//
//   - Source: rise within the rains and exponential recession of water levels in weathered
//     basement, time constants of 60 to 200 days; a cosine where nothing speaks for a limb.
//     Common practice, no source for the grid.
func shapes() (out []shape) {
	for low := range knots {
		for _, rises := range risesIn {
			for _, fall := range falls {
				var s shape
				for k := range knots {
					since := (k - low + knots) % knots
					if since < rises {
						s[k] = (1 - math.Cos(math.Pi*float64(since)/float64(rises))) / 2
					} else {
						s[k] = fall(float64(since-rises) / float64(knots-rises))
					}
				}
				out = append(out, s)
			}
		}
	}
	return out
}
