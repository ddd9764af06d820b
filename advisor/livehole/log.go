package livehole

import (
	"fmt"
	"math"
	"slices"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// LogSchema names the form of [Log].
const LogSchema = "waterstrike.holelog.1"

// Log is what a hole has shown so far.
type Log struct {
	Schema  string           `json:"schema"`
	Method  geo.Method       `json:"method"` // in use
	Month   int              `json:"month"`  // 1 to 12
	DepthM  float64          `json:"depthM"` // of the hole, read to the half metre
	Layers  []Layer          `json:"layers"` // from the surface down; what nobody looked at is left out
	StrikeM geo.Opt[float64] `json:"strikeM,omitzero"`
	LevelM  geo.Opt[float64] `json:"levelM,omitzero"`  // where the water rests, below ground
	Refused bool             `json:"refused,omitzero"` // the method in use does not get on
}

// Layer is one interval as the crew named it.
type Layer struct {
	TopM        float64          `json:"topM"`
	BaseM       float64          `json:"baseM"`
	Class       soil.Class       `json:"class"`
	MinutesPerM geo.Opt[float64] `json:"minutesPerM,omitzero"`
}

// Check returns a [geo.Invalid] error that says what of a log cannot be.
func (l *Log) Check(p *Pack) error {
	switch {
	case p.Schema != PackSchema || len(p.Classes) != classes || p.Cells < 2:
		return wrong("hole.pack-unknown", "value", p.Schema)
	case l.Schema != LogSchema:
		return wrong("hole.log-unknown", "value", l.Schema)
	case p.method(l.Method) < 0:
		return wrong("hole.method-unknown", "value", string(l.Method))
	case l.Month < int(time.January) || l.Month > int(time.December):
		return wrong("hole.month-wrong", "value", fmt.Sprint(l.Month))
	case !(l.DepthM >= 0) || l.DepthM > float64(p.Cells)*cellM:
		return wrong("hole.depth-wrong", "value", fmt.Sprint(l.DepthM))
	}
	for _, depth := range []geo.Opt[float64]{l.StrikeM, l.LevelM} {
		if d, ok := depth.Get(); ok && (math.IsNaN(d) || d > l.DepthM+cellM || d < -10) {
			return wrong("hole.water-wrong", "value", fmt.Sprint(d))
		}
	}
	base := 0.0
	for _, x := range l.Layers {
		minutes := x.MinutesPerM.Or(1)
		if !(x.TopM >= base) || !(x.BaseM > x.TopM) || x.BaseM > l.DepthM+cellM || x.Class > soil.Count || !(minutes > 0) || math.IsInf(minutes, 0) {
			return wrong("hole.layer-wrong", "value", fmt.Sprintf("%g-%g m", x.TopM, x.BaseM))
		}
		base = x.BaseM
	}
	return nil
}

func wrong(code geo.Code, name, value string) error {
	return geo.Fail(geo.Invalid, "livehole.Answer", geo.Say(code, geo.With(name, geo.Text(value))), nil)
}

func (p *Pack) method(code geo.Method) int {
	return slices.IndexFunc(p.Methods, func(m Method) bool { return m.Code == code })
}

// hole is a log cut into cells.
type hole struct {
	cells   int
	named   []int     // place of the class of each cell, -1 where nobody looked
	share   []float64 // one over the cells of its layer
	minutes []float64 // per metre; 0 where nobody looked at a watch
	strike  int       // cell where water came in, -1 for none yet
}

// cut cuts a log into cells: each takes the layer that covers its middle.
func (l *Log) cut() hole {
	h := hole{cells: int(math.Floor(l.DepthM/cellM + 0.5)), strike: -1}
	h.named, h.share, h.minutes = make([]int, h.cells), make([]float64, h.cells), make([]float64, h.cells)
	for z := range h.named {
		h.named[z] = -1
		for _, x := range l.Layers {
			if middle := middleM(z); x.TopM <= middle && middle < x.BaseM {
				h.named[z], h.minutes[z] = int(x.Class)-1, x.MinutesPerM.Or(0)
			}
		}
	}
	for z := 0; z < h.cells; {
		end := z + 1
		for end < h.cells && h.named[end] == h.named[z] {
			end++
		}
		of := float64(end - z)
		for ; z < end; z++ {
			h.share[z] = 1 / of
		}
	}
	if at, ok := l.StrikeM.Get(); ok {
		h.strike = max(0, min(int(math.Floor(at/cellM)), h.cells-1))
	}
	return h
}

func middleM(z int) float64 { return (float64(z) + 0.5) * cellM }
