package check

import (
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// A log of so many layers, or one less with the same depth, is no chance where few share
// it; common practice, no source.
const (
	tellingLayers = 3
	mostSharing   = 3
)

// listLogs finds the logs that several bores share.
func (s *survey) listLogs() {
	first := map[uint64]int{}
	s.byLog = map[uint64][]int{}
	for i := range s.holes {
		log := s.holes[i].log
		if log.layers < tellingLayers {
			continue
		}
		at, twice := first[log.whole]
		switch {
		case !twice:
			first[log.whole] = i
		case s.byLog[log.whole] == nil:
			s.byLog[log.whole] = []int{at, i}
		default:
			s.byLog[log.whole] = append(s.byLog[log.whole], i)
		}
	}
}

// sameLog reports a bore whose log, words and all, is that of a bore elsewhere: a row
// copied for another place. A log that many share is how a crew writes, not a copy.
func (s *survey) sameLog(h *hole) {
	sharing := s.byLog[h.log.whole]
	if len(sharing) == 0 || len(sharing) > mostSharing {
		return
	}
	for _, at := range sharing {
		other := &s.holes[at]
		if other == h {
			continue
		}
		args := []geo.Arg{geo.With("bore", geo.Text(other.label)), geo.With("n", geo.Count(h.log.layers))}
		if h.placed && other.placed {
			args = append(args, geo.With("distance", geo.DistanceM(coord.DistanceM(h.at, other.at))))
		}
		h.say(SameLog, args...)
		return
	}
}
