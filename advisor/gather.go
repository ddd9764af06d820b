package advisor

import (
	"math/rand/v2"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/geo/terrain"
)

// How many neighbours an answer reads.
const (
	nearLevels = 32
	nearPoints = 8 // wells and water points
	nearLogs   = 256
	nearYields = 32
	closest    = 24 // logs that grades are looked for in, and that evidence is counted in
	perLog     = 2  // possible grounds drawn from a log close by where they are paired
	noLog      = 64 // and from what all logs say together, or a log of as much
)

// gathered is the evidence around one point.
type gathered struct {
	nearest      []evidence.Near     // the nearest bore of any kind
	levels       []evidence.Near     // those behind observations, in their order
	observations []level.Observation // those of bores, then those of wells and water points
	described    []evidence.Near     // those behind logs, in their order
	logs         []strata.Near
	k            *hydraulics.Conductivities // here
	land         terrain.Setting
}

func (a *Advisor) gather(at coord.LonLat) gathered {
	return a.gatherIn(at, coord.NewPlane(at), a)
}

// reader finds the bores around a place, nearest first, and reads what they say: of the
// level in a plane, of the layers, and of conductivity.
type reader interface {
	levels(at coord.LonLat, plane coord.Plane) ([]evidence.Near, []level.Observation)
	logs(at coord.LonLat) ([]evidence.Near, []strata.Near)
	heard(*evidence.Bore) []hydraulics.Tested
}

// gatherIn gathers the evidence around a point with places in a plane of the asker's.
func (a *Advisor) gatherIn(at coord.LonLat, plane coord.Plane, read reader) gathered {
	g := gathered{land: a.snapshot.Setting(at)}
	g.readLevels(a.snapshot, at, plane, read)
	g.readLogs(at, read)
	g.readYields(a.fits.k, at, read)
	return g
}

func (g *gathered) readLevels(s *evidence.Snapshot, at coord.LonLat, plane coord.Plane, read reader) {
	g.levels, g.observations = read.levels(at, plane)
	for _, n := range s.NearestPoints(at, nearPoints) {
		if len(g.levels) > 0 && n.DistanceM <= g.levels[len(g.levels)-1].DistanceM {
			g.observations = append(g.observations, pointObservations(n.Point, plane, level.LandOf(s.Setting(n.Pos)))...)
		}
	}
}

// placed is an observation in a plane.
func placed(o level.Observation, b *evidence.Bore, plane coord.Plane) level.Observation {
	xy := plane.XY(b.Pos)
	o.At.X, o.At.Y = xy.X, xy.Y
	return o
}

func (g *gathered) readLogs(at coord.LonLat, read reader) { g.described, g.logs = read.logs(at) }

// readYields learns how open the ground is here from the bores around.
func (g *gathered) readYields(k *hydraulics.Conductivities, at coord.LonLat, read reader) {
	plane := coord.NewPlane(at)
	var placed []hydraulics.Placed
	for _, n := range g.described[:min(nearYields, len(g.described))] {
		if n.DistanceM > k.ReachM() {
			break
		}
		placed = append(placed, placedIn(n.Bore, read.heard(n.Bore), plane)...)
	}
	g.k = k.Near(placed, 0, 0)
}

func (a *Advisor) levels(at coord.LonLat, plane coord.Plane) (near []evidence.Near, out []level.Observation) {
	for _, n := range a.snapshot.NearestLevelled(at, nearLevels) {
		if o, ok := levelIn(a.snapshot, n.Bore); ok {
			near, out = append(near, n), append(out, placed(o, n.Bore, plane))
		}
	}
	return near, out
}

func (a *Advisor) logs(at coord.LonLat) (near []evidence.Near, out []strata.Near) {
	for _, n := range a.snapshot.NearestDescribed(at, nearLogs) {
		if log := logIn(a.snapshot, n.Bore); log.Described() {
			near, out = append(near, n), append(out, strata.Near{Log: log, DistanceM: n.DistanceM})
		}
	}
	return near, out
}

func (a *Advisor) heard(b *evidence.Bore) []hydraulics.Tested { return heardFrom(b) }

// levelIn is what a bore states of the level, with the land about it.
func levelIn(s *evidence.Snapshot, b *evidence.Bore) (o level.Observation, ok bool) {
	if o, ok = observationOf(b); ok {
		o.Land = level.LandOf(s.SettingOf(b))
	}
	return o, ok
}

// logIn is the log of a bore with the land about it.
func logIn(s *evidence.Snapshot, b *evidence.Bore) strata.Log {
	log := logOf(b)
	log.Setting = settingOf(s.SettingOf(b))
	return log
}

// observationOf returns what a bore states of the level, at no place; ok is false when it states
// nothing, or was dry in ground too tight to show water within a day. A dry hole that went
// on into tight ground says that there was no water down to there.
func observationOf(b *evidence.Bore) (o level.Observation, ok bool) {
	if len(b.Levels) == 0 {
		return o, false
	}
	l := b.Levels[0]
	o = level.Observation{DepthM: float64(l.DepthM), On: l.On(), Vague: l.Any}
	switch l.State {
	case geo.LevelFlowing:
		o.State = level.Flowing
	case geo.LevelDryTo:
		o.State, o.DepthM = level.DryTo, float64(openTo(b, l.DepthM))
		return o, o.DepthM > 0
	}
	return o, true
}

// What a well's words are worth: its last water stands a little above the bottom, and a
// hand pump hangs higher still. Common practice, no source.
const (
	dugSumpM  = 0.3
	tubeSumpM = 2
)

// pointObservations returns what a well or water point states of the level.
func pointObservations(p evidence.Point, plane coord.Plane, land level.Land) (out []level.Observation) {
	xy := plane.XY(p.Pos)
	o := level.Observation{Land: land}
	o.At.X, o.At.Y = xy.X, xy.Y
	for _, l := range p.Levels {
		read := o
		read.DepthM, read.On = float64(l.DepthM), l.On()
		out = append(out, read)
	}
	if dry, ok := p.Dry.Get(); ok {
		o.State, o.DepthM, o.Dry, o.SumpM = level.Well, p.DepthM.Or(0), dry, dugSumpM
		if p.Bored {
			o.SumpM = tubeSumpM
		}
		out = append(out, o)
	}
	return out
}

// openTo returns the depth down to which a dry hole would have shown water: its own, or
// where the ground that is known to be too tight begins. Below that a dry hole bounds the
// strike and not the level.
func openTo(b *evidence.Bore, depthM float32) float32 {
	for _, l := range slices.Backward(b.Layers) {
		switch {
		case l.TopM >= depthM:
		case depthM > l.BaseM+float32(strata.CellM): // nothing is known of the ground at the bottom
			return depthM
		case l.Class == soil.Clay || l.Class == soil.Rock || l.Class == soil.Hardpan:
			depthM = l.TopM
		default:
			return depthM
		}
	}
	return depthM
}

// grounds draws the possible grounds at a point: columns with the odds of the statement,
// those of a log close by with the grades of that log, others with those of a log drawn by
// its share.
func (a *Advisor) grounds(near gathered, x *strata.Statement, rng *rand.Rand) []weighed {
	return a.weigh(nil, x.Draw(noLog, rng), near, x, rng, strata.Cells)
}

// weigh makes possible grounds of drawn columns, down to so many cells, and appends them.
func (a *Advisor) weigh(out []weighed, columns []strata.Drawn, near gathered, x *strata.Statement, rng *rand.Rand, cells int) []weighed {
	out = slices.Grow(out, len(columns))
	by := newGrader(near.described, near.k)
	of, others := dealt(x.Shares, noLog, rng), 0
	for i := range columns {
		d := &columns[i]
		from := d.Near
		if from < 0 {
			from = of[others%len(of)]
			others++
		}
		out = append(out, weighed{weight: d.Weight})
		var first *evidence.Bore
		if from < len(near.described) {
			first = near.described[from].Bore
		}
		by.grade(&out[len(out)-1].ground, d.Column, first, cells)
	}
	return out
}

// dealt returns n places, each as often as its share says to within one, in any order.
//
// Source: systematic sampling, Madow (1949).
func dealt(shares []float64, n int, rng *rand.Rand) []int {
	total := 0.0
	for _, s := range shares {
		total += s
	}
	out, first, sum := make([]int, 0, n), rng.Float64(), 0.0
	for i, s := range shares {
		for sum += s; len(out) < n && (float64(len(out))+first)/float64(n)*total < sum; {
			out = append(out, i)
		}
	}
	for len(out) < n { // rounding left nothing over
		out = append(out, 0)
	}
	rng.Shuffle(n, func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// startingWith puts one log before the closest in their order.
func startingWith(near []evidence.Near, first int) []evidence.Near {
	close := near[:min(closest, len(near))]
	if first >= len(near) {
		return close
	}
	return append([]evidence.Near{near[first]}, close...)
}
