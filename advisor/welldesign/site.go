package welldesign

import (
	"fmt"
	"math"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Layer is one interval of one class.
type Layer struct {
	TopM   float64    `json:"topM"`
	BaseM  float64    `json:"baseM"`
	Class  soil.Class `json:"class"`
	Grade  soil.Grade `json:"grade,omitempty"`
	Clayey bool       `json:"clayey,omitempty"`
}

// Water is how deep the water stands, metres below ground; negative above it.
type Water struct {
	WetHighM   float64 `json:"wetHighM"`   // end of the rains of a normal year
	NormalLowM float64 `json:"normalLowM"` // end of a normal dry season
	DesignLowM float64 `json:"designLowM"` // the low that one year in ten goes below
}

// Site is one column of ground with its water.
type Site struct {
	Layers    []Layer          `json:"layers"` // from the surface down, without gaps
	Water     Water            `json:"water"`
	AltitudeM geo.Opt[float64] `json:"altitudeM,omitzero"` // above the sea; suction pumps mind it
}

// cellM is the step in which ground is looked at: what a driller measures to.
const cellM = 0.1

// deepestM is deeper than any hand-drilled well.
const deepestM = 100

// check refuses a site that contradicts itself.
func (s Site) check() error {
	if len(s.Layers) == 0 {
		return wrongSite("well.input.no-layers")
	}
	base := 0.0
	for _, l := range s.Layers {
		switch {
		case !(l.BaseM > l.TopM) || math.IsInf(l.BaseM, 0):
			return wrongSite("well.input.layer-upside-down", metres("from", l.TopM), metres("to", l.BaseM))
		case !(math.Abs(l.TopM-base) <= slackM):
			return wrongSite("well.input.layers-apart", metres("from", base), metres("to", l.TopM))
		}
		base = l.BaseM
	}
	w := s.Water
	if !(w.WetHighM <= w.NormalLowM && w.NormalLowM <= w.DesignLowM) || math.IsInf(w.WetHighM, 0) || math.IsInf(w.DesignLowM, 0) {
		return wrongSite("well.input.levels-crossed", geo.With("value",
			geo.Text(fmt.Sprintf("%.1f, %.1f, %.1f", w.WetHighM, w.NormalLowM, w.DesignLowM))))
	}
	return nil
}

func wrongSite(code geo.Code, args ...geo.Arg) error {
	return geo.Fail(geo.Invalid, "welldesign.Design", geo.Say(code, args...), nil)
}

func metres(name string, m float64) geo.Arg {
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return geo.With(name, geo.Text(fmt.Sprint(m)))
	}
	return geo.With(name, geo.Metres(m))
}

// column is a site in cells.
type column struct {
	classes []soil.Class
	layer   []int // index of each cell's layer
	body    []int // which water-bearing body a cell is of; -1 where it gives no water
	layers  []Layer
}

// columnOf cuts a site into cells: each takes the layer that covers its middle.
func columnOf(s Site, separatingM float64) *column {
	n := int(min(s.Layers[len(s.Layers)-1].BaseM, deepestM)/cellM + 0.5)
	c := &column{classes: make([]soil.Class, n), layer: make([]int, n), body: make([]int, n), layers: s.Layers}
	at := 0
	for i := range n {
		middle := (float64(i) + 0.5) * cellM
		for at < len(s.Layers)-1 && middle > s.Layers[at].BaseM {
			at++
		}
		c.layer[i], c.classes[i], c.body[i] = at, s.Layers[at].Class, -1
	}
	c.bodies(int(math.Ceil(separatingM/cellM - slackM)))
	return c
}

// slackM is less than anyone measures.
const slackM = 1e-6

// Gives reports that a class gives enough water for a screen to be set against it.
func Gives(c soil.Class) bool {
	switch c {
	case soil.Sand, soil.Gravel, soil.WeatheredRock, soil.FracturedRock:
		return true
	}
	return false
}

// strikeM is where water first enters the hole when it rests at restM: there, or at the top
// of the first ground below that gives water.
func (c *column) strikeM(restM float64) float64 {
	for i := max(0, down(restM)); i < len(c.body); i++ {
		if c.body[i] >= 0 {
			return max(restM, at(i))
		}
	}
	return restM
}

// aboveM is the base of the nearest other body above cell i's own; ok is false without one.
func (c *column) aboveM(i int) (float64, bool) {
	for j := i; j >= 0; j-- {
		if c.body[j] >= 0 && c.body[j] != c.body[i] {
			return at(j + 1), true
		}
	}
	return 0, false
}

// topOf is the top of cell i's body.
func (c *column) topOf(i int) float64 {
	top := i
	for j := i; j >= 0 && (c.body[j] == c.body[i] || c.body[j] < 0); j-- {
		if c.body[j] == c.body[i] {
			top = j
		}
	}
	return at(top)
}

// holdsBody reports that an interval holds ground that gives water, cell i's body left out.
func (c *column) holdsBody(topM, baseM float64, other int) bool {
	for j := max(0, down(topM)); j < min(up(baseM), len(c.body)); j++ {
		if c.body[j] >= 0 && c.body[j] != other {
			return true
		}
	}
	return false
}

// at is the depth of a cell's top; up and down are the cells whose tops lie at or next
// below, and at or next above, a depth.
func at(cell int) float64     { return math.Round(float64(cell)*cellM*10) / 10 }
func up(m float64) int        { return int(math.Ceil(m/cellM - slackM)) }
func down(m float64) int      { return int(math.Floor(m/cellM + slackM)) }
func tenth(m float64) float64 { return math.Round(m*10) / 10 }
