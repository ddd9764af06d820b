package method

import (
	"cmp"
	"fmt"
	"math"

	"waterstrike/advisor/rule"
	"waterstrike/geo/soil"
)

// stops are the words for what stops a method.
var stops = [...]string{
	"stiff-clay", "sticky-clay", "gravel", "coarse-gravel", "stones", "open-cracks", "hard-layer",
	"running-sand", "quicksand-at-top", "coarse-sand-sinks", "rock", "fresh-rock",
}

// check refuses an entry that no method can be.
func (e entry) check(at rule.Fault) error {
	err := cmp.Or(
		at.Within("maxDepthM", e.MaxDepth.Value(), 0.5, 100),
		at.Within("belowWaterM", e.BelowWater.Value, 0.1, 100),
		at.Within("holeRangeMM.lo", e.HoleRange.Lo, 20, 500), at.Within("holeRangeMM.hi", e.HoleRange.Hi, 20, 500),
		at.Within("holeMM", e.Hole.Value, e.HoleRange.Lo, e.HoleRange.Hi),
		whole(at, "crew", e.Crew.Value), whole(at, "crewRange.lo", e.CrewRange.Lo), whole(at, "crewRange.hi", e.CrewRange.Hi),
		at.Within("crew", e.Crew.Value, e.CrewRange.Lo, e.CrewRange.Hi),
		at.Within("waterM3.lo", e.Water.Lo, 0, 100), at.Within("waterM3.hi", e.Water.Hi, 0, 100),
		at.Within("slowerPerM", e.SlowerPerM.Value, 0, 1),
		at.Within("diameterPower", e.DiameterPower.Value, 0, 4),
		at.OneOf("casing.rule", string(e.Casing.Rule), string(BailInside), string(KeepFull)),
		at.Within("casing.headM", e.Casing.Head.Value, 0, 10),
		at.Within("casing.surfaceM", e.Casing.Surface.Value, 0, 20),
	)
	for _, stop := range e.Stops {
		err = cmp.Or(err, at.OneOf("stops", stop, stops[:]...))
	}
	for _, class := range soil.Known() {
		g, told := e.Ground[class]
		field := "ground." + class.String()
		if err == nil && !told {
			return at.Missing(field)
		}
		err = cmp.Or(err, g.check(at, field))
	}
	if _, unknown := e.Ground[soil.Unknown]; unknown && err == nil {
		at.Kind, at.Field = rule.UnknownField, "ground.unknown"
		return rule.Refuse(at)
	}
	return err
}

// whole refuses what is no number of people.
func whole(at rule.Fault, field string, v float64) error {
	if v == math.Trunc(v) {
		return at.Within(field, v, 1, 20)
	}
	at.Kind, at.Field, at.Value, at.Allowed = rule.Outside, field, fmt.Sprint(v), "1, 2, 3 …"
	return rule.Refuse(at)
}

func (g groundEntry) check(at rule.Fault, field string) error {
	if err := at.OneOf(field+".pace", string(g.Pace), string(Free), string(Slow), string(Stop)); err != nil {
		return err
	}
	if g.Pace == Stop {
		return nil // what was said of tool and rate before it was stopped stays unused
	}
	var known []string
	for _, t := range Tools() {
		known = append(known, string(t))
	}
	err := cmp.Or(at.OneOf(field+".tool", string(g.Tool), known...), speed(at, field+".rateMH", g.Rate))
	if g.Pace == Slow {
		err = cmp.Or(err, at.Within(field+".crossableM", g.Crossable.Value, 0.05, 100))
	}
	if g.ToolBelowWater == "" {
		return err
	}
	return cmp.Or(err, at.OneOf(field+".toolBelowWater", string(g.ToolBelowWater), known...),
		speed(at, field+".rateBelowWaterMH", g.RateBelowWater))
}

// speed refuses rates that no crew has.
func speed(at rule.Fault, field string, r rule.Range) error {
	const slowestMH, fastestMH = 0.001, 60
	if r == (rule.Range{}) {
		return at.Missing(field)
	}
	return cmp.Or(at.Within(field+".lo", r.Lo, slowestMH, fastestMH), at.Within(field+".hi", r.Hi, slowestMH, fastestMH))
}
