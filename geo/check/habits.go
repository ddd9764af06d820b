package check

import (
	"maps"
	"math"
	"slices"

	"waterstrike/geo"
)

// habits are what is usual in a source: how long its work takes, in which years it was
// done, and on which figures its depths fall.
type habits struct {
	spans, ends         []float64 // days of work, and of completion since 1970; until settled
	levels, yields      []float64 // of producing bores; until settled
	overs               []float64 // levels under strikes
	onDay               map[geo.Date]int
	depths              map[float64]int
	marked, unmarked    int // logs on half metres turned into feet, and not
	inFeet              bool
	longDays            float64 // hardly any work of the source takes longer
	firstDay, lastDay   float64 // its years, with as many again before and after
	depth, level, yield middle
}

// fewestUsual is how many of something make a habit.
const fewestUsual = 20

func (h *habits) count(b hole) {
	if h.onDay == nil {
		h.onDay, h.depths = map[geo.Date]int{}, map[float64]int{}
	}
	if b.on.Day != 0 {
		h.onDay[b.on]++
	}
	if b.on.Year != 0 {
		h.ends = append(h.ends, dayNumber(b.on))
	}
	if span, known := spanOf(b); known && span >= 0 {
		h.spans = append(h.spans, span)
	}
	if m, known := b.overStrike.Get(); known {
		h.overs = append(h.overs, m)
	}
	if y, known := b.yield.Get(); known && b.works {
		h.yields = append(h.yields, y)
	}
	if m, known := b.level.Get(); known && b.works {
		h.levels = append(h.levels, m)
	}
	if d, known := b.depth.Get(); known {
		h.depths[d]++
	}
	switch {
	case b.marks >= 2:
		h.marked++
	case b.log.layers > 2:
		h.unmarked++
	}
}

// dayNumber counts days; a date that is not known to the day stands at its first.
func dayNumber(d geo.Date) float64 { return float64(first(d).Unix()) / 86400 }

// spanOf is how many days the work took.
func spanOf(b hole) (days float64, known bool) {
	if b.began.Day == 0 || b.on.Day == 0 {
		return 0, false
	}
	return dayNumber(b.on) - dayNumber(b.began), true
}

// settle finds the limits beyond which hardly anything of the source lies. They hold though
// one in ten is wrong.
func (h *habits) settle() {
	const (
		leastLong = 20.0
		unknownLo = 400.0
		leastYear = 5 * 365.25
	)
	h.longDays, h.firstDay, h.lastDay = unknownLo, math.Inf(-1), math.Inf(1)
	slices.Sort(h.spans)
	slices.Sort(h.ends)
	if len(h.spans) >= fewestUsual {
		h.longDays = max(leastLong, 5*quantile(h.spans, 0.9))
	}
	if len(h.ends) >= fewestUsual {
		lo, hi := quantile(h.ends, 0.15), quantile(h.ends, 0.85)
		room := max(leastYear, hi-lo)
		h.firstDay, h.lastDay = lo-room, hi+room
	}
	h.inFeet = h.figuresInFeet()
	h.yield, h.level = middleOf(h.yields), middleOf(h.levels)
	h.spans, h.ends, h.yields, h.levels = nil, nil, nil, nil
}

// sameDay is the day on which a source has far more bores finished than a crew can, and
// how many.
func (h *habits) sameDay() (on geo.Date, n int) {
	const mostShare = 0.2
	total := 0
	for _, d := range slices.SortedFunc(maps.Keys(h.onDay), geo.Date.Compare) {
		total += h.onDay[d]
		if h.onDay[d] > n {
			on, n = d, h.onDay[d]
		}
	}
	if total < fewestUsual || float64(n) < mostShare*float64(total) {
		return geo.Date{}, 0
	}
	return on, n
}

// overStrike is by how much the levels of a source lie under the strikes of the same
// holes, where that is common: they were read from above ground, the strikes were not.
func (h *habits) overStrike() (m float64, steady bool) {
	const share, least, most = 0.75, 0.3, 1.5
	if len(h.overs) < fewestUsual {
		return 0, false
	}
	m = quantile(slices.Sorted(slices.Values(h.overs)), share)
	return m, m >= least && m <= most
}

// quantile of sorted values, at least one.
func quantile(sorted []float64, share float64) float64 {
	return sorted[min(len(sorted)-1, int(share*float64(len(sorted))))]
}

// dated reports a day that is far from all others of the source, or work that took far
// longer than is usual in it.
func (s *survey) dated(h *hole) {
	usual := &s.origins[h.origin].habits
	if h.on.Year != 0 {
		if n := dayNumber(h.on); n < usual.firstDay || n > usual.lastDay {
			h.say(DateAlone, day("day", h.on))
			return
		}
	}
	if span, known := spanOf(*h); known && span > usual.longDays {
		h.say(WorkTooLong, geo.With("n", geo.Count(int(span))), day("day", h.on))
	}
}
