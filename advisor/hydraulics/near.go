package hydraulics

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo/soil"
)

// The kins of material: what was laid down or weathered as one is open or tight together.
const (
	loose = iota
	weathered
	kins // how many there are
)

// kin is that of a material, -1 for one that no screen is set against.
func (m Material) kin() int {
	switch m.Class {
	case soil.Sand, soil.Gravel:
		return loose
	case soil.WeatheredRock, soil.FracturedRock:
		return weathered
	}
	return -1
}

// Alike is how conductivities go together over the land.
type Alike struct {
	Share  float64 // of what layers differ by that neighbours have in common
	RangeM float64 // distance at which that falls to 1/e
	Bores  int     // that it was learnt from
}

// Placed is what a bore says with where it stands, metres in a plane.
type Placed struct {
	X, Y float64
	Tested
}

func (p Placed) to(x, y float64) float64 { return math.Hypot(p.X-x, p.Y-y) }

// off is how far the ground behind one screen lies over the region's mean, in standard
// deviations of its layers, as a reading with a variance.
type off struct {
	x, y     float64
	kin      int
	z, noise float64
	region   float64 // standard deviation of the region's mean, likewise
}

// offOf reads a bore; ok is false where it says next to nothing. What is no Normal reading
// is taken for the one that leaves the same mean and variance.
//
// Source: moment matching, Minka (2001).
func (c *Conductivities) offOf(p Placed) (o off, ok bool) {
	m, s, share, err := p.ofOne()
	k := m.kin()
	if err != nil || share < mostly || k < 0 || s.atOdds(m.prior()) {
		return o, false
	}
	x := c.ofRegion(m)
	s.limit = c.limit
	_, mean, left := s.moments(x.mean, x.layer)
	if left > 0.98*x.layer {
		return o, false
	}
	noise := 1 / (1/left - 1/x.layer)
	reading := x.mean + (mean-x.mean)*(1+noise/x.layer)
	sd := math.Sqrt(x.layer)
	return off{p.X, p.Y, k, (reading - x.mean) / sd, noise / x.layer, x.sd / sd}, true
}

// What is tried of the likeness of neighbours.
var (
	tryShares = [...]float64{0.2, 0.4, 0.6, 0.8}
	tryRanges = [...]float64{250, 500, 1000, 2000}
)

const (
	pairsTo   = 6    // neighbours that a bore makes a pair with
	pairedM   = 3000 // farthest of them
	leastGain = 4.0  // log-likelihood that a likeness must bring: pairs share their bores
	leastAlls = 20   // bores that tell of a likeness
)

// Relate learns how far the conductivity at one bore tells of that beside it: the share and
// the range that make pairs of neighbours likeliest.
//
//   - Shapes: any number of bores, n to n² of work; a sample of some hundreds does.
//   - Units: metres.
//   - Domain: with few bores, or none whose neighbours are alike, the share is 0.
//   - Source: composite likelihood of pairs, Varin, Reid and Firth (2011); exponential
//     correlation.
//   - Checked by: TestRelateFindsTheRange.
func (c *Conductivities) Relate(bores []Placed) {
	var by [kins][]off
	for _, b := range bores {
		if o, ok := c.offOf(b); ok {
			by[o.kin] = append(by[o.kin], o)
		}
	}
	for k, offs := range by {
		c.alike[k] = related(offs)
	}
}

// pair is two bores close to each other.
type pair struct {
	a, b   *off
	apartM float64
}

func related(offs []off) Alike {
	best := Alike{Bores: len(offs)}
	if len(offs) < leastAlls {
		return best
	}
	pairs := pairsOf(offs)
	most := likelihood(pairs, 0, 1) + leastGain
	for _, share := range tryShares {
		for _, rangeM := range tryRanges {
			if l := likelihood(pairs, share, rangeM); l > most {
				most, best.Share, best.RangeM = l, share, rangeM
			}
		}
	}
	return best
}

func pairsOf(offs []off) (out []pair) {
	for i := range offs {
		var of []pair
		for j := range offs[:i] {
			if d := math.Hypot(offs[i].x-offs[j].x, offs[i].y-offs[j].y); d < pairedM {
				of = append(of, pair{&offs[i], &offs[j], d})
			}
		}
		slices.SortStableFunc(of, func(p, q pair) int { return cmp.Compare(p.apartM, q.apartM) })
		out = append(out, of[:min(len(of), pairsTo)]...)
	}
	return out
}

// likelihood is the logarithm of that of all pairs, but for a constant.
func likelihood(pairs []pair, share, rangeM float64) (sum float64) {
	for _, p := range pairs {
		v, w, r := 1+p.a.noise, 1+p.b.noise, share*math.Exp(-p.apartM/rangeM)
		det := v*w - r*r
		sum -= math.Log(det)/2 + (w*p.a.z*p.a.z-2*r*p.a.z*p.b.z+v*p.b.z*p.b.z)/(2*det)
	}
	return sum
}

// Alike returns how sands and gravels go together, and weathered and fractured rock.
func (c *Conductivities) Alike() (sands, rocks Alike) { return c.alike[loose], c.alike[weathered] }

// ReachM is how far off a bore may tell of a place, metres; 0 where none does.
func (c *Conductivities) ReachM() float64 {
	return 3 * max(c.alike[loose].RangeM, c.alike[weathered].RangeM)
}

// here is what the bores around a place say of one kin, in standard deviations of layers.
type here struct {
	bores  int
	z      float64 // over the region's mean
	narrow float64 // standard deviation left, as a part of that without them
}

// on turns the belief of the region into that of the place.
func (h here) on(b Belief) Belief {
	layer := math.Sqrt(max(b.SDDecades*b.SDDecades-b.MeanSDDecades*b.MeanSDDecades, 0))
	b.Log10MPerS += h.z * layer
	b.SDDecades *= h.narrow
	b.MeanSDDecades *= h.narrow
	return b
}

// nearest is how many bores of a kin are read at a place.
const nearest = 10

// Near returns what is believed at one place, the bores around it being read as well: where
// neighbours are alike, those that gave much raise it and all make it surer.
//
//   - Shapes: near sorted by distance or not; the closest ten of a kin count.
//   - Units: metres.
//   - Domain: bores farther than three ranges tell nothing. c may know no likeness: then it
//     is returned as it is.
//   - Source: simple kriging, Chilès and Delfiner (2012), chapter 3, with the region's mean
//     as one more unknown.
//   - Checked by: TestNearAgainstMatrices, TestNearForetells.
func (c *Conductivities) Near(near []Placed, x, y float64) *Conductivities {
	if c == nil || c.alike[loose].Share == 0 && c.alike[weathered].Share == 0 {
		return c
	}
	out := *c
	var by [kins][]off
	for _, p := range near {
		d := p.to(x, y)
		if d > c.ReachM() {
			continue
		}
		if o, ok := c.offOf(p); ok && d < 3*c.alike[o.kin].RangeM {
			by[o.kin] = append(by[o.kin], o)
		}
	}
	for k, offs := range by {
		slices.SortStableFunc(offs, func(p, q off) int {
			return cmp.Compare(math.Hypot(p.x-x, p.y-y), math.Hypot(q.x-x, q.y-y))
		})
		out.here[k] = c.alike[k].at(offs[:min(len(offs), nearest)], x, y)
	}
	return &out
}

// at kriges the offsets to a place.
func (a Alike) at(offs []off, x, y float64) here {
	if len(offs) == 0 || a.Share == 0 {
		return here{}
	}
	var s [nearest][nearest + 2]float64 // covariances, then readings, then covariances with the place
	n := len(offs)
	like := func(apartM float64) float64 { return a.Share * math.Exp(-apartM/a.RangeM) }
	region := 0.0
	for i, p := range offs {
		region += p.region / float64(n)
		for j, q := range offs {
			s[i][j] = p.region*q.region + like(math.Hypot(p.x-q.x, p.y-q.y))
		}
		s[i][i] = p.region*p.region + 1 + p.noise
		s[i][n] = p.z
	}
	for i, p := range offs {
		s[i][n+1] = p.region*region + like(math.Hypot(p.x-x, p.y-y))
	}
	of := s
	before, z, told := 1+region*region, 0.0, 0.0
	solveBoth(&s, n)
	for i := range n {
		z += of[i][n+1] * s[i][n]
		told += of[i][n+1] * s[i][n+1]
	}
	return here{n, z, math.Sqrt(max(before-told, 0) / before)}
}

// solveBoth solves for the two columns after the first n: the matrix is positive definite,
// so that no pivoting is needed.
func solveBoth(s *[nearest][nearest + 2]float64, n int) {
	for i := range n {
		for j := i + 1; j < n; j++ {
			by := s[j][i] / s[i][i]
			for k := i; k < n+2; k++ {
				s[j][k] -= by * s[i][k]
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		for k := n; k < n+2; k++ {
			for j := i + 1; j < n; j++ {
				s[i][k] -= s[i][j] * s[j][k]
			}
			s[i][k] /= s[i][i]
		}
	}
}
