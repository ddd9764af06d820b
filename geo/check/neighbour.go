package check

import (
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/index"
)

// The least spread of neighbours that an outlier is held against: what honest records
// differ by however alike the neighbours look. Common practice, no source.
const (
	levelFloorM  = 2.0 // season and reading
	levelShare   = 0.2
	reliefRun    = 1000.0 // metres over ground for each metre that water may lie deeper
	logFloor     = 0.35   // of ln depth
	fewestNear   = 5
	farFromZeroM = 2.0 // where every neighbour's water stands deeper, a level of 0 is none
)

// around is what the neighbours of a bore hold.
type around struct {
	levels, depths         []float64 // of the nearest, each list of its own
	levelReachM            float64   // the farthest
	grounds, groundWeights []float64
	otherDepth, otherLevel []float64 // of the nearest of other sources
}

// outlying holds a bore's values against its neighbours'.
func (s *survey) outlying(h *hole) {
	if !h.placed || h.astray {
		return
	}
	n := s.around(h)
	s.compareSources(h, n)
	s.compareGround(h, n)
	if s.roundInFeet(h, n) || s.feet(h, n) {
		return
	}
	if v, known := h.level.Get(); known {
		floor := func(mid float64) float64 { return levelFloorM + levelShare*mid + n.levelReachM/reliefRun }
		if mid, out := s.outlier(v, n.levels, floor); out {
			h.say(LevelOutlier, metres("level", v), metres("from", mid))
		}
		s.tenth(h, n, v)
	}
	if h.zero && len(n.levels) >= fewestNear && slices.Min(n.levels) > farFromZeroM {
		h.say(LevelZero)
	}
	if v, known := h.depth.Get(); known && !h.stopped && s.origins[h.origin].rareDepth(v) {
		if mid, out := s.outlier(math.Log(v), logsOf(n.depths), func(float64) float64 { return logFloor }); out {
			h.say(DepthOutlier, metres("depth", v), metres("from", math.Exp(mid)))
		}
	}
}

func logsOf(values []float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = math.Log(v)
	}
	return out
}

// outlier reports a value that lies farther from the neighbours' median than so many
// robust deviations (1.4826 times the median absolute deviation, or the floor).
func (s *survey) outlier(v float64, near []float64, floor func(mid float64) float64) (mid float64, out bool) {
	if len(near) < fewestNear {
		return 0, false
	}
	mid = median(near)
	return mid, math.Abs(v-mid) > s.Outlying*max(deviation(near, mid), floor(mid))
}

// around walks outward from a bore and gathers its neighbours' values.
func (s *survey) around(h *hole) (n around) {
	const otherReachM, others, widest = 3000, 3, 64
	enough, seen := s.Neighbours, 0
	wants := func(v geo.Opt[float64], list []float64) bool { return v.Known() && len(list) < enough }
	s.index.NearestFunc(h.at, func(hit index.Hit) bool {
		other := s.of(hit.ID)
		if other == h || other.astray {
			return true
		}
		seen++
		if keep(&n.levels, other.level, enough) {
			n.levelReachM = hit.DistanceM
		}
		if !other.stopped {
			keep(&n.depths, other.depth, enough)
		}
		if keep(&n.grounds, other.ground, enough) {
			n.groundWeights = append(n.groundWeights, 1/math.Pow(hit.DistanceM+soonM, 2))
		}
		if other.origin != h.origin && hit.DistanceM < otherReachM {
			keep(&n.otherDepth, other.depth, others)
			keep(&n.otherLevel, other.level, others)
		}
		more := wants(h.level, n.levels) || h.zero && len(n.levels) < enough || wants(h.depth, n.depths) || wants(h.ground, n.grounds)
		return seen < widest && hit.DistanceM < s.ReachM && (more || hit.DistanceM < otherReachM)
	})
	return n
}

// keep adds a value that is known to a list that is not full, and reports it.
func keep(list *[]float64, v geo.Opt[float64], most int) bool {
	x, known := v.Get()
	if known = known && len(*list) < most; known {
		*list = append(*list, x)
	}
	return known
}

// sharedSpots notes many bores at one position: that of the village, not of the bore.
func (s *survey) sharedSpots(h *hole) {
	const many, sameM = 4, 1.0
	if !h.placed || h.astray {
		return
	}
	if n := len(s.index.Within(h.at, sameM)); n >= many {
		h.say(PositionShared, geo.With("n", geo.Count(n)), geo.With("value", geo.Text(written(h.at))))
	}
}
