package check

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// sameBore reports the first bore that may be this one, entered twice: of the same depth,
// and at the same spot with one more thing in common, or nearby with two, or anywhere with
// the same number and day. Bores in a nest share spot and day, but not their depth.
func (s *survey) sameBore(h *hole) {
	other := s.twinAround(h)
	if other == nil {
		other = s.twinByCode(h)
	}
	if other == nil {
		s.sameLog(h)
		return
	}
	code, args := SameBore, []geo.Arg{geo.With("bore", geo.Text(other.label))}
	if !h.placed || !other.placed {
		code = SameBoreUnplaced
	} else {
		args = append(args, geo.With("distance", geo.DistanceM(coord.DistanceM(h.at, other.at))))
	}
	h.say(code, args...)
}

func (s *survey) twinAround(h *hole) *hole {
	if !h.placed {
		return nil
	}
	for _, hit := range s.index.Within(h.at, max(s.SameSpotM, s.RoundedM)) {
		other, needed := s.of(hit.ID), 2
		if hit.DistanceM <= s.SameSpotM {
			needed = 1
		}
		if other != h && inCommon(h, other) >= needed {
			return other
		}
	}
	return nil
}

// twinByCode finds the same number, day and depth, wherever it lies.
func (s *survey) twinByCode(h *hole) *hole {
	for _, at := range s.byCode[h.code] {
		other := &s.holes[at]
		if other != h && h.on == other.on && h.on.Day != 0 && inCommon(h, other) > 0 {
			return other
		}
	}
	return nil
}

// listCodes finds the numbers that several bores carry.
func (s *survey) listCodes() {
	first := map[string]int{}
	s.byCode = map[string][]int{}
	for i := range s.holes {
		code := s.holes[i].code
		if code == "" {
			continue
		}
		at, twice := first[code]
		switch {
		case !twice:
			first[code] = i
		case s.byCode[code] == nil:
			s.byCode[code] = []int{at, i}
		default:
			s.byCode[code] = append(s.byCode[code], i)
		}
	}
}

// inCommon counts what two bores share of day, log, number and level; 0 when their depths
// differ, or one less when they differ by little and the logs agree down to there.
func inCommon(a, b *hole) (n int) {
	const sameM, nearM = 0.15, 1.5 // a decimetre, and the rounding of feet; less than in a nest
	depthA, knownA := a.depth.Get()
	depthB, knownB := b.depth.Get()
	sameLog := a.log.whole == b.log.whole && a.log.layers > 0
	if away := math.Abs(depthA - depthB); knownA && knownB && away > sameM {
		sameLog = a.log.head == b.log.head && a.log.layers == b.log.layers && a.log.layers > 1
		if away > nearM || !sameLog {
			return 0
		}
		n--
	}
	for _, same := range []bool{
		a.on == b.on && a.on.Day != 0,
		sameLog,
		a.code == b.code && a.code != "",
		knownA && knownB && a.level.Known() && a.level == b.level,
	} {
		if same {
			n++
		}
	}
	return n
}
