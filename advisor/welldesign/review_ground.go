package welldesign

import (
	"cmp"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// stretch is a length of screen opposite one class.
type stretch struct {
	class       soil.Class
	topM, baseM float64
}

// ground judges what a screen stands opposite.
func (v *review) ground(s geo.Pipe) {
	if len(v.Layers) == 0 {
		v.say(geo.Note, "asbuilt.no-log", metres("from", s.TopM), metres("to", s.BaseM))
		return
	}
	giving, cracked := 0.0, 0.0
	for _, part := range v.opposite(s.TopM, s.BaseM) {
		from, to := metres("from", part.topM), metres("to", part.baseM)
		switch {
		case Gives(part.class):
			giving += part.baseM - part.topM
		case part.baseM-part.topM <= shortM: // what a log's depths are good for
		case part.class == soil.Unknown:
			cracked += part.baseM - part.topM
			v.say(geo.Note, "asbuilt.screen-undescribed", from, to)
		case part.class == soil.Rock || part.class == soil.Hardpan:
			cracked += part.baseM - part.topM
			v.say(geo.Note, "asbuilt.screen-in-hard", geo.With("class", geo.Ref("class."+geo.Code(part.class.String()))), from, to)
		default:
			v.say(geo.Doubt, "asbuilt.screen-opposite", geo.With("class", geo.Ref("class."+geo.Code(part.class.String()))), from, to)
		}
	}
	if giving+cracked < v.rules.Screen.Least.Value-measuredM {
		v.say(geo.Doubt, "asbuilt.little-screen", metres("length", giving), metres("to", v.rules.Screen.Least.Value))
	}
	v.slots(s)
}

// shortM is a stretch of screen in tight ground that is not worth telling; common practice.
const shortM = 0.3

// opposite cuts an interval by the layers beside it, neighbours of one class joined;
// undescribed stretches are Unknown.
func (v *review) opposite(topM, baseM float64) []stretch {
	layers := slices.Clone(v.Layers)
	slices.SortStableFunc(layers, func(a, b geo.Layer) int { return cmp.Compare(a.TopM, b.TopM) })
	var out []stretch
	add := func(class soil.Class, top, base float64) {
		if base-top < slackM {
			return
		}
		if n := len(out); n > 0 && out[n-1].class == class && top-out[n-1].baseM < slackM {
			out[n-1].baseM = base
			return
		}
		out = append(out, stretch{class, top, base})
	}
	last := topM
	for _, l := range layers {
		top, base := max(l.TopM, last), min(l.BaseM, baseM)
		if !(base-top > slackM) {
			continue // above, below, or covered by a layer before it
		}
		add(soil.Unknown, last, top)
		add(l.Class, top, base)
		last = base
	}
	add(soil.Unknown, last, baseM)
	return out
}

// packMostMM are the largest grains of a filter pack; common practice, no source.
const packMostMM = 6

// slots judges slots against the pack, without one against the sand behind them.
func (v *review) slots(s geo.Pipe) {
	slot, known := s.SlotMM.Get()
	if !known {
		return
	}
	if v.has(geo.Pack) {
		if slot > packMostMM {
			v.say(geo.Doubt, "asbuilt.slots-let-pack", geo.With("amount", geo.Number(slot)), geo.With("amount-to", geo.Number(packMostMM)))
		}
		return
	}
	for _, l := range v.Layers {
		if l.Class != soil.Sand || l.Grade == soil.GradeUnknown || overlapM(l.TopM, l.BaseM, s.TopM, s.BaseM) <= measuredM {
			continue
		}
		if _, coarsest := grainsMM(l.Grade, l.Class); slot > coarsest {
			v.say(geo.Doubt, "asbuilt.slots-wide", geo.With("amount", geo.Number(slot)),
				geo.With("class", geo.Ref("class.sand-"+geo.Code(l.Grade.String()))))
			return
		}
	}
}

// aboveWater judges a screen against the design low, or else the deepest rest level of the
// record.
func (v *review) aboveWater(s geo.Pipe) {
	from, to := metres("from", s.TopM), metres("to", s.BaseM)
	if w, known := v.water.Get(); known {
		switch {
		case s.BaseM <= w.DesignLowM:
			v.say(geo.Doubt, "asbuilt.screen-dry", from, to, metres("level", w.DesignLowM))
		case s.TopM < w.DesignLowM-measuredM:
			v.say(geo.Doubt, "asbuilt.screen-above-design", from, to, metres("level", w.DesignLowM))
		}
		return
	}
	rest, known := v.deepestRest()
	switch {
	case known && s.BaseM <= rest:
		v.say(geo.Doubt, "issue.screen-dry", from, to, metres("level", rest))
	case known && s.TopM < rest-measuredM:
		v.say(geo.Doubt, "issue.screen-above-level", from, to, metres("level", rest))
	}
}

func (v *review) deepestRest() (m float64, known bool) {
	for _, l := range v.Levels {
		if depth, read := l.DepthM.Get(); read && l.State == geo.LevelRest && (!known || depth > m) {
			m, known = depth, true
		}
	}
	return m, known
}
