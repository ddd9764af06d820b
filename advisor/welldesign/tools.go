package welldesign

import (
	"waterstrike/advisor/method"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// ToolRange says which tool to use over a range of depths.
type ToolRange struct {
	TopM  float64     `json:"topM"`
	BaseM float64     `json:"baseM"`
	Class soil.Class  `json:"class"`
	Tool  method.Tool `json:"tool"`
	Below bool        `json:"below"` // water
}

// tools follows the layers down to the bottom and cuts them at the water. Ground that
// nobody described has no tool.
func (d *drilled) tools(bottomM float64) []ToolRange {
	var out []ToolRange
	water := tenth(d.strikeM(d.site.Water.NormalLowM))
	for _, l := range d.site.Layers {
		for _, part := range cutAt(tenth(l.TopM), min(tenth(l.BaseM), bottomM), water) {
			g := d.Method.Ground[l.Class]
			next := ToolRange{part[0], part[1], l.Class, g.Tool, part[0] >= water-slackM}
			if next.Below && g.ToolBelowWater != "" {
				next.Tool = g.ToolBelowWater
			}
			if n := len(out); n > 0 && out[n-1].Tool == next.Tool && out[n-1].Class == next.Class && out[n-1].Below == next.Below {
				out[n-1].BaseM = next.BaseM
				continue
			}
			out = append(out, next)
		}
	}
	return out
}

// cutAt splits an interval at a depth; none where it has no length.
func cutAt(topM, baseM, atM float64) [][2]float64 {
	switch {
	case baseM <= topM+slackM:
		return nil
	case atM <= topM+slackM || atM >= baseM-slackM:
		return [][2]float64{{topM, baseM}}
	}
	return [][2]float64{{topM, atM}, {atM, baseM}}
}

// WorkingRules tells how the hole is drilled: how it is kept open, what is written down, and
// when to give it up.
//
// Source: stop below 0.1 m in 1-2 h with two tools, or at a hard layer of more than 2-3 m
// (common practice, no source).
func WorkingRules(m *method.Method, w Well, r *Rules) []geo.Message {
	return append(casingRules(m, w),
		geo.Say("plan.log-each-metre"),
		geo.Say("work.stop", metres("length", r.Work.Stop.Value), geo.With("amount", geo.Number(r.Work.StopHours.Value))))
}

// casingRules tells how a method keeps its hole open, when to change from an open hole to
// bailing inside casing, and how the casing comes out.
//
// Source: casing rules of the list; switching rules common practice, no source.
func casingRules(m *method.Method, w Well) []geo.Message {
	if m.Casing == method.KeepFull {
		out := []geo.Message{geo.Say("plan.fluid-level")}
		if m.SurfaceM > 0 {
			out = append(out, geo.Say("casing.surface", metres("length", m.SurfaceM)))
		}
		return out
	}
	return []geo.Message{
		geo.Say("plan.casing-rule"),
		geo.Say("casing.switch-empty"), geo.Say("casing.switch-filling"), geo.Say("casing.switch-slumping"),
		geo.Say("casing.water-over-rest", metres("length", m.HeadM)), geo.Say("casing.shoe-at-bailer"),
		geo.Say("plan.casing-in-clay"), geo.Say("casing.telescope"),
		geo.Say("casing.pull-while-packing", geo.With("n", geo.Count(int(max(m.HoleMM, w.Casing.HoleMM)+0.5)))),
	}
}
