package variogram

import (
	"math"
	"slices"
)

// worthKeeping is the gain of log-likelihood below which anisotropy or a second
// structure is not kept: half the 95 % point of chi-squared with the two parameters
// that each costs.
const worthKeeping = 2.996

// bend frees the anisotropy, and keeps it if it is worth its two parameters. The
// likelihood has a top for each way a chance alignment of data can be read, so that
// every azimuth is tried.
func (s *search) bend(best place) place {
	var starts []place
	for azimuth := 0.0; azimuth < 180; azimuth += 45 {
		p := best
		p.azimuthDeg, p.logRatio = azimuth, math.Log(0.6)
		starts = append(starts, p)
	}
	bent := s.grow(best, starts, azimuthOf(), ratioOf())
	s.report.BendGain = bent.logLik - best.logLik
	if s.report.BendGain < worthKeeping {
		s.free = s.free[:len(s.free)-2]
		return best
	}
	return bent
}

// nest frees a second structure, and keeps it if it is worth its two parameters.
func (s *search) nest(best place) place {
	var starts []place
	lo, hi := s.lo.logA[1], s.hi.logA[1]
	practical := best.logA[0] - s.lo.logA[0] + lo // the same practical range in the second family
	for _, away := range []float64{math.Log(4), -math.Log(4)} {
		p := best
		p.logA[1], p.split = min(max(practical+away, lo), hi), 0.4
		starts = append(starts, p)
	}
	nested := s.shortFirst(s.grow(best, starts, rangeOf(1, lo, hi), splitOf()))
	s.report.SecondGain = nested.logLik - best.logLik
	if s.report.SecondGain < worthKeeping {
		s.free = s.free[:len(s.free)-2]
		return best
	}
	return nested
}

// shortFirst exchanges two structures of one family: their order means nothing else.
func (s *search) shortFirst(p place) place {
	if s.family[0] == s.family[1] && p.logA[1] < p.logA[0] {
		p.logA[0], p.logA[1], p.split = p.logA[1], p.logA[0], 1-p.split
	}
	return p
}

// MostLoss stands for a likelihood that could not be computed in [Report.MaxRangeLoss].
const MostLoss = 1e6

// stretch tries the longest range allowed, all else refitted: along a ridge that rises
// without end the simplex stops where it no longer gains, and that may be anywhere.
func (s *search) stretch(best place) place {
	if best.share == 1 || math.IsInf(best.logLik, -1) {
		return best
	}
	p, part := best, 0
	if p.split > 0 {
		part = 1
	}
	far := math.Exp(s.hi.logA[part] - p.logA[part]) // the sill grows with the range, the slope stays
	p.share = p.share / (p.share + (1-p.share)*far)
	p.logTotal += math.Log(far)
	p.logA[part] = s.hi.logA[part]
	free := s.free
	s.free = slices.DeleteFunc(slices.Clone(free), func(c coordinate) bool { return c.at(&p) == &p.logA[part] })
	p = s.refine(s.middle, s.clamp(p), 1, roughTol)
	if p.logLik > best.logLik-rivalry {
		p = s.refine(s.middle, p, 1, s.tolerance)
	}
	s.free = free
	s.report.MaxRangeLoss = min(max(0, best.logLik-p.logLik), MostLoss)
	if p.logLik > best.logLik-slack {
		return p
	}
	return best
}

// grow climbs with more coordinates, which can only gain.
func (s *search) grow(best place, starts []place, more ...coordinate) place {
	s.free = append(s.free, more...)
	return highest([]place{best, s.climb(starts)})
}
