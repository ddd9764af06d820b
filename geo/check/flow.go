package check

import (
	"slices"

	"waterstrike/geo"
)

// span is where nearly all values of a kind lie.
type span struct{ least, most float64 }

// listYields finds between which yields nearly all bores of an outcome lie.
func (s *survey) listYields() {
	byOutcome := map[geo.Outcome][]float64{}
	for i := range s.holes {
		if y, known := s.holes[i].yield.Get(); known {
			byOutcome[s.holes[i].outcome] = append(byOutcome[s.holes[i].outcome], y)
		}
	}
	s.yields = map[geo.Outcome]span{}
	for outcome, all := range byOutcome {
		if slices.Sort(all); len(all) >= fewestUsual {
			s.yields[outcome] = span{quantile(all, 0.1), quantile(all, 0.9)}
		}
	}
}

// flowing reports a yield several times beyond what nearly all bores of the same outcome
// give: yields differ by a hundred times, and the wrong unit makes 60 or 3.6.
func (s *survey) flowing(h *hole) {
	const times = 4.0 // common practice, no source
	usual, known := s.yields[h.outcome]
	y, measured := h.yield.Get()
	if known && measured && (y > times*usual.most || y < usual.least/times) {
		h.say(YieldOutlier, geo.With("yield", geo.LPS(y)))
	}
}
