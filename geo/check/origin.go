package check

import (
	"cmp"
	"fmt"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// origin is one source of bores, such as the file of an office, and what is usual in it.
type origin struct {
	by, file                                 string
	n, logged, works, worksMeasured, toMonth int
	days, january, depths, fives             int
	placed, rounded                          int
	habits                                   habits
	all                                      []float64 // depths, until settled
	shallowM, deepM                          float64   // all but the rarest depths lie between
	lons, lats                               []float64
	middle                                   coord.LonLat
	usualM                                   float64 // median distance from the middle
	depthRatios, levelRatios, levelOffsets   []float64
}

// count takes a bore into the account of its source.
func (o *origin) count(h hole) {
	yes := func(n *int, is bool) {
		if is {
			*n++
		}
	}
	yes(&o.n, true)
	yes(&o.logged, h.log.layers > 0)
	yes(&o.works, h.works)
	yes(&o.worksMeasured, h.works && h.measured)
	yes(&o.toMonth, h.on.Month != 0)
	yes(&o.days, h.on.Day != 0)
	yes(&o.january, h.on.Day == 1 && h.on.Month == 1)
	if depth, known := h.depth.Get(); known {
		o.all = append(o.all, depth)
		yes(&o.depths, true)
		yes(&o.fives, float64(int(depth/5))*5 == depth)
	}
	o.habits.count(h)
	if h.placed {
		yes(&o.placed, true)
		yes(&o.rounded, h.rounded)
		o.lons, o.lats = append(o.lons, h.at.Lon), append(o.lats, h.at.Lat)
	}
}

// settle finds the middle of the source and how far from it its bores usually lie.
func (o *origin) settle() {
	if len(o.lons) < fewestAround {
		o.lons, o.lats = nil, nil
		return
	}
	away := make([]float64, len(o.lons))
	o.middle = coord.LonLat{Lon: median(slices.Clone(o.lons)), Lat: median(slices.Clone(o.lats))}
	for i := range away {
		away[i] = coord.DistanceM(o.middle, coord.LonLat{Lon: o.lons[i], Lat: o.lats[i]})
	}
	o.usualM = median(away)
	o.lons, o.lats = nil, nil
}

// settleDepths finds the depths beyond which hardly any bore of the source goes.
func (o *origin) settleDepths() {
	const rare = 40 // one in so many, at either end
	slices.Sort(o.all)
	if n := len(o.all); n > 0 {
		o.habits.depth = middle{o.all[n/2], n}
		o.shallowM, o.deepM = o.all[n/rare], o.all[n-1-n/rare]
	}
	o.all = nil
}

// rareDepth reports a depth that is rare in the whole source: a shallow well among deep
// ones is no mistake where there are many of both.
func (o *origin) rareDepth(depthM float64) bool { return depthM <= o.shallowM || depthM >= o.deepM }

// around reports a position where the source's bores lie; every one where too few are
// known.
func (o *origin) around(p coord.LonLat) bool {
	return o.usualM == 0 || coord.DistanceM(o.middle, p) < max(aloneM, aloneTimes*o.usualM)
}

// name is what the messages call the source.
func (o *origin) name() string { return cmp.Or(o.by, o.file) }

// usual reports that nearly all of a source's bores have something.
func usual(with, of int, share float64) bool {
	const fewest = 20
	return of >= fewest && float64(with) >= share*float64(of)
}

// absent notes what a bore lacks although its source usually gives it. A log that is
// missing where all others are there was most likely lost on the way.
func (s *survey) absent(h *hole) {
	const nearlyAll, most = 0.9, 0.75
	o := &s.origins[h.origin]
	if h.log.layers == 0 && h.depth.Known() && usual(o.logged, o.n, nearlyAll) {
		h.say(LogAbsent)
	}
	if h.works && !h.measured && usual(o.worksMeasured, o.works, most) {
		h.say(LevelAbsent)
	}
	if h.on.Month == 0 && usual(o.toMonth, o.n, most) {
		h.say(MonthAbsent)
	}
}

// sources tells what is wrong with whole sources, by name.
func (s *survey) sources() error {
	slices.SortFunc(s.origins, func(a, b origin) int {
		return cmp.Or(cmp.Compare(a.by, b.by), cmp.Compare(a.file, b.file))
	})
	for i := range s.origins {
		all := s.origins[i].judge()
		for _, found := range append(all, s.compared(i)...) {
			found.File = s.origins[i].file
			if err := s.yield(found); err != nil {
				return err
			}
		}
	}
	return s.ctx.Err()
}

// written is a position as people read it.
func written(p coord.LonLat) string { return fmt.Sprintf("%.5f, %.5f", p.Lat, p.Lon) }

// inFeet reports a source by its own figures or by bores of other sources nearby.
func (o *origin) inFeet() bool {
	return o.habits.inFeet || inFeet(o.depthRatios) || inFeet(o.levelRatios)
}

func (o *origin) judge() (found []geo.Issue) {
	const fewest, mostJanuary, mostHeaped = 20, 0.05, 0.6
	say := func(code geo.Code, args ...geo.Arg) {
		found = append(found, issueOf(code, append(args, geo.With("value", geo.Text(o.name())))...))
	}
	if usual(o.january, o.days, mostJanuary) && o.january >= fewest/4 {
		say(JanuaryFirst, geo.With("n", geo.Count(o.january)), geo.With("total", geo.Count(o.days)))
	}
	if usual(o.fives, o.depths, mostHeaped) {
		say(DepthsHeaped, geo.With("n", geo.Count(o.fives)), geo.With("total", geo.Count(o.depths)))
	}
	switch n, total := o.habits.multiples(footM); {
	case o.inFeet():
		say(SourceInFeet)
	case total > 0:
		say(SourceFromFeet, geo.With("n", geo.Count(n)), geo.With("total", geo.Count(total)))
	}
	if by, steady := offset(o.levelOffsets); steady {
		say(SourceOffset, metres("length", by))
	} else if by, steady := o.habits.overStrike(); steady {
		say(SourceOffset, metres("length", by))
	}
	if usual(o.rounded, o.placed, mostRounded) {
		say(SourceRounded, geo.With("n", geo.Count(o.rounded)), geo.With("total", geo.Count(o.placed)))
	}
	if on, n := o.habits.sameDay(); n > 0 {
		say(SourceSameDay, day("day", on), geo.With("n", geo.Count(n)), geo.With("total", geo.Count(o.days)))
	}
	return found
}
