package variogram

import "math"

// LeastRatio bounds the anisotropy that a fit looks for: at most ten times as far one
// way as across. Stated here, no source.
const LeastRatio = 0.1

// place is a parameter vector and its log-likelihood.
type place struct {
	logA       [2]float64 // log range parameters of the first and second structure
	split      float64    // the second structure's share of the correlated variance
	share      float64    // micro-scale share of the total variance
	azimuthDeg float64
	logRatio   float64 // 0 is isotropic
	logTotal   float64
	logLik     float64
}

// coordinate is one number of a place that a search may move. step is the edge of a
// first simplex and the unit in which the optimiser sees it: a third of a scan step or
// so.
type coordinate struct {
	at           func(*place) *float64
	lo, hi, step float64
}

func rangeOf(part int, lo, hi float64) coordinate {
	return coordinate{func(p *place) *float64 { return &p.logA[part] }, lo, hi, 0.15}
}

func shareOf() coordinate {
	return coordinate{func(p *place) *float64 { return &p.share }, 0, 1, 0.05}
}

func totalOf(lo, hi float64) coordinate {
	return coordinate{func(p *place) *float64 { return &p.logTotal }, lo, hi, 0.2}
}

func splitOf() coordinate {
	return coordinate{func(p *place) *float64 { return &p.split }, 0, 1, 0.1}
}

func azimuthOf() coordinate {
	return coordinate{func(p *place) *float64 { return &p.azimuthDeg }, math.Inf(-1), math.Inf(1), 15}
}

func ratioOf() coordinate {
	return coordinate{func(p *place) *float64 { return &p.logRatio }, math.Log(LeastRatio), 0, 0.2}
}

func (s *search) clamp(p place) place {
	for _, c := range s.free {
		v := c.at(&p)
		*v = min(max(*v, c.lo), c.hi)
	}
	return p
}

func (s *search) encode(p place) []float64 {
	x := make([]float64, len(s.free))
	for i, c := range s.free {
		x[i] = *c.at(&p) / c.step
	}
	return x
}

// decode moves the free coordinates of a place to x.
func (s *search) decode(p place, x []float64) place {
	for i, c := range s.free {
		*c.at(&p) = x[i] * c.step
	}
	return p
}

// anisotropy is that of a place, with the azimuth in [0, 180).
func (p place) anisotropy() Anisotropy {
	if p.logRatio == 0 {
		return Anisotropy{}
	}
	azimuth := math.Mod(p.azimuthDeg, 180)
	if azimuth < 0 {
		azimuth += 180
	}
	return Anisotropy{AzimuthDeg: azimuth, Ratio: math.Exp(p.logRatio)}
}

// parts are the correlated structures at a place, without those of no variance.
func (s *search) parts(p place) []Part {
	correlated := math.Exp(p.logTotal) * (1 - p.share)
	var out []Part
	for k, part := range [2]Part{
		{s.family[0], correlated * (1 - p.split), math.Exp(p.logA[0])},
		{s.family[1], correlated * p.split, math.Exp(p.logA[1])},
	} {
		if k == 0 && p.split < 1 && p.share < 1 || k == 1 && p.split > 0 && p.share < 1 {
			out = append(out, part)
		}
	}
	return out
}

// structure builds the model at a place.
func (s *search) structure(p place) (Structure, error) {
	total := math.Exp(p.logTotal)
	if p.share == 1 {
		return NewStructure(total)
	}
	var models []Model
	for _, part := range s.parts(p) {
		m, err := part.Family.New(part.PartialSill, part.RangeParameterM)
		if err != nil {
			return Structure{}, err
		}
		models = append(models, m)
	}
	return NewStructure(total*p.share, models...)
}
