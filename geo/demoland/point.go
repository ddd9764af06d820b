package demoland

import (
	"math"
	"math/rand/v2"
	"time"

	"waterstrike/geo"
)

// points is where people take water: tube wells on bores that produced, wells that they
// dug themselves, springs and open water.
func (l *Land) points(villages []geo.Village, bores []geo.Bore) []geo.WaterPoint {
	r := stream(l.seed, "points")
	var out []geo.WaterPoint
	for _, b := range bores {
		if b.Outcome == geo.Producing && r.Float64() < 0.5 {
			out = append(out, l.tubeWell(r, b))
		}
	}
	for _, v := range villages {
		at := l.frame(v.Position.Pos)
		for range 1 + r.IntN(2) {
			if w, ok := l.dugWell(r, at.plus(heading(between(r, 0, 2*math.Pi)).times(between(r, 30, 700)))); ok {
				out = append(out, w)
			}
		}
		if r.Float64() < 0.35 {
			out = append(out, l.openWater(r, at))
		}
	}
	for i := range out {
		out[i].ID = geo.WaterPointID(l.id("point", i))
	}
	return out
}

func (l *Land) tubeWell(r *rand.Rand, b geo.Bore) geo.WaterPoint {
	pos := b.Position.Or(l.position(pt{}))
	depth := b.DepthM.Or(0)
	w := geo.WaterPoint{
		Name: b.Place, Kind: geo.TubeWell, Position: pos, DepthM: b.DepthM,
		Users: geo.Some(10 * (6 + r.IntN(40))), Works: geo.Some(r.Float64() < 0.72),
		DryMonths: geo.Some(l.dryMonths(l.frame(pos.Pos), depth-1.5)), Source: b.Source,
	}
	w.Visits = l.visits(r, l.frame(pos.Pos), depth-1, 0.5)
	return w
}

// dugWell is dug at the end of a dry season until it holds water, or given up at the
// first hard ground or at 25 m.
func (l *Land) dugWell(r *rand.Rand, q pt) (geo.WaterPoint, bool) {
	if !l.inside(q) {
		return geo.WaterPoint{}, false
	}
	c := l.column(q)
	year := 1990 + r.IntN(30)
	low := c.level(between(r, 0, 0.5), l.waterYear(year))
	depth := low + between(r, 0.4, 2)
	for _, layer := range c.Layers {
		if layer.Unit == BrokenRock || layer.Unit == Crust && layer.BaseM-layer.TopM > 2 {
			depth = min(depth, layer.TopM)
			break
		}
	}
	depth = round(min(depth, 25), 0.5)
	if depth < 1.5 {
		return geo.WaterPoint{}, false
	}
	pos := l.position(q)
	w := geo.WaterPoint{
		Kind: geo.DugWell, Position: pos, DepthM: geo.Some(depth),
		Users: geo.Some(10 * (3 + r.IntN(25))), DryMonths: geo.Some(l.dryMonths(q, depth-0.2)),
		Source: provenance(officeAt(pos.Pos).Name),
	}
	w.Visits = l.visits(r, q, depth-0.2, 0.8)
	w.Works = geo.Some(c.WetHighM < depth-0.2)
	return w, true
}

// openWater is a spring or a pool at the nearest low ground.
func (l *Land) openWater(r *rand.Rand, village pt) geo.WaterPoint {
	best := village
	for range 12 {
		q := village.plus(heading(between(r, 0, 2*math.Pi)).times(between(r, 200, 1800)))
		if l.inside(q) && l.reliefAt(q).aboveM < l.reliefAt(best).aboveM {
			best = q
		}
	}
	kind := geo.OpenWater
	if r.Float64() < 0.3 {
		kind = geo.Spring
	}
	pos := l.position(best)
	return geo.WaterPoint{Kind: kind, Position: pos, Users: geo.Some(10 * (2 + r.IntN(20))), Source: provenance(officeAt(pos.Pos).Name)}
}

// dryMonths is the months of a normal year when water stands below a depth.
func (l *Land) dryMonths(q pt, depthM float64) geo.MonthSet {
	c := l.column(q)
	var dry []time.Month
	for m := time.January; m <= time.December; m++ {
		season := l.Season(time.Date(2015, m, 15, 0, 0, 0, 0, time.UTC))
		if c.level(season, 0) > depthM {
			dry = append(dry, m)
		}
	}
	return geo.Months(dry...)
}

// visits is one to four later visits; some measured the water.
func (l *Land) visits(r *rand.Rand, q pt, depthM, measured float64) []geo.Visit {
	c := l.column(q)
	var out []geo.Visit
	on := time.Date(2016+r.IntN(3), time.Month(1+r.IntN(12)), 1+r.IntN(28), 0, 0, 0, 0, time.UTC)
	for range 1 + r.IntN(4) {
		level := c.level(l.Season(on), l.YearEffect(on))
		v := geo.Visit{On: geo.DateOf(on), Works: geo.Some(level < depthM && r.Float64() < 0.9)}
		if level < depthM && level > 0 && r.Float64() < measured {
			v.LevelM = geo.Some(max(round(level+0.05*r.NormFloat64(), 0.1), 0))
		}
		out = append(out, v)
		on = on.AddDate(0, 0, 60+r.IntN(600))
	}
	return out
}
