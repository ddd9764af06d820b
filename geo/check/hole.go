package check

import (
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// hole is what the rules across records keep of one bore.
type hole struct {
	id, label, code, place string
	village                geo.VillageID
	file                   string
	row                    int
	origin                 int // in survey.origins
	at                     coord.LonLat
	placed                 bool
	astray                 bool // the position was found wrong: no neighbour of anybody
	works, measured        bool // producing; any reading of the water
	stopped                bool // by the ground, not by the crew: the depth tells of that spot alone
	zero                   bool // a rest level of exactly 0, though not a bare one
	rounded                bool // the position, to whole minutes or hundredths of a degree
	on                     geo.Date
	began                  geo.Date
	outcome                geo.Outcome
	depth, level, ground   geo.Opt[float64]
	yield                  geo.Opt[float64]
	overStrike             geo.Opt[float64] // how much deeper the water stands than it came in
	aboveNear              geo.Opt[float64] // how much higher the elevation is than those around
	marks                  int              // depths of layers that are half metres turned into feet; -1: others
	log                    logDigest
	found                  []geo.Issue
}

// say adds a finding about the bore.
func (h *hole) say(code geo.Code, args ...geo.Arg) {
	i := issueOf(code, args...)
	i.Record, i.File, i.Row = h.id, h.file, h.row
	h.found = append(h.found, i)
}

// gatherer turns bores into holes; texts that many bores share are kept once.
type gatherer struct {
	holes   []hole
	origins []origin
	byName  map[string]int
	texts   map[string]string
}

func newGatherer() *gatherer {
	return &gatherer{byName: map[string]int{}, texts: map[string]string{}}
}

func (g *gatherer) once(text string) string {
	if kept, known := g.texts[text]; known {
		return kept
	}
	g.texts[text] = text
	return text
}

func (g *gatherer) add(b geo.Bore) error {
	h := hole{
		id: string(b.ID), label: b.Label(), code: geo.FoldName(b.Code), place: g.once(geo.FoldName(b.Place)), village: b.VillageID,
		file: g.once(b.Source.File), row: b.Source.Row,
		works: b.Outcome == geo.Producing, measured: len(b.Levels) > 0,
		stopped: b.Outcome == geo.Refused || b.Outcome == geo.Collapsed, zero: atZero(b),
		on: b.Completed.Or(geo.Date{}), began: b.Started.Or(geo.Date{}), outcome: b.Outcome,
		depth: positive(b.DepthM), level: restOf(b), yield: positive(b.YieldLPS), overStrike: overStrike(b),
		marks: feetMarks(b.Layers), log: digest(b.Layers),
	}
	if at, known := b.Position.Get(); known {
		h.at, h.placed, h.rounded = at.Pos, true, isRounded(at.Pos)
	}
	if e, known := b.Ground.Get(); known {
		h.ground = geo.Some(e.M)
	}
	h.origin = g.originOf(b.Source)
	g.origins[h.origin].count(h)
	g.holes = append(g.holes, h)
	return nil
}

// originOf finds or adds the source of a record: who gave it, and in which file.
func (g *gatherer) originOf(p geo.Provenance) int {
	name := p.By + "\x00" + p.File
	at, known := g.byName[name]
	if !known {
		at = len(g.origins)
		g.byName[name] = at
		g.origins = append(g.origins, origin{by: p.By, file: p.File})
	}
	return at
}

func positive(v geo.Opt[float64]) geo.Opt[float64] {
	if v.Or(0) > 0 {
		return v
	}
	return geo.Opt[float64]{}
}

// restOf is the deepest rest level that was read below ground.
func restOf(b geo.Bore) geo.Opt[float64] {
	out := geo.Opt[float64]{}
	for _, l := range b.Levels {
		if d, known := l.DepthM.Get(); known && l.State == geo.LevelRest && d > out.Or(0) {
			out = geo.Some(d)
		}
	}
	return out
}

// atZero reports a rest level of exactly 0 that [Bore] leaves in peace.
func atZero(b geo.Bore) bool {
	return slices.ContainsFunc(b.Levels, func(l geo.Level) bool {
		return l.State == geo.LevelRest && l.DepthM.Or(1) == 0 && !writtenZero(l)
	})
}

// overStrike is by how much the deepest rest level lies below the deepest strike; negative
// above it.
func overStrike(b geo.Bore) geo.Opt[float64] {
	level, known := restOf(b).Get()
	j := judge{Bore: b}
	if strike := j.deepestStrike(); known && strike > 0 {
		return geo.Some(level - strike)
	}
	return geo.Opt[float64]{}
}
