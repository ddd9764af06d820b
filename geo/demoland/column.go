package demoland

import (
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Setting is what kind of ground a point stands on.
type Setting string

// The settings.
const (
	Sea      Setting = "sea"
	Coast    Setting = "coast"    // sand strip behind the shore
	Valley   Setting = "valley"   // river deposits of 4 m and more
	Plateau  Setting = "plateau"  // laterite crust of half a metre and more
	Hillside Setting = "hillside" // weathered rock without a crust
)

// Column is everything there is to know at one point.
type Column struct {
	Setting        Setting
	GroundM        float64          // elevation above the sea
	AboveDrainageM float64          // height above the stream or shore it drains to
	ToDrainageM    float64          // distance to it
	Layers         []Layer          // contiguous from 0 to ColumnM
	NormalLowM     float64          // depth to rest at the dry-season low of a normal year
	DesignLowM     float64          // the same in 1 year of 10
	WetHighM       float64          // depth to rest at the peak of a normal year
	StrikeM        float64          // where water comes in at the normal low: rest, or the top of the layer that gives it
	Confined       bool             // rest stands above the strike
	PerchedM       geo.Opt[float64] // depth of wet-season water on the crust, not the water table
	SaltBelowM     geo.Opt[float64] // depth below which water is salt
}

// confinedM is how far rest must stand above the strike to call the water confined.
const confinedM = 0.5

// Column returns the truth at p.
//
//   - Units: metres; depths below ground, elevations above the sea.
//   - Domain: any position; the land ends some 6 km beyond the region.
//   - Errors: none.
//   - Cost: some 15 µs. Safe for concurrent use.
//   - Checked by: TestColumnLaws, TestColumnDoesNotDependOnOrder.
func (l *Land) Column(p coord.LonLat) Column { return l.column(l.frame(p)).Column }

// Level returns the depth to rest at p on a date, negative above ground.
func (l *Land) Level(p coord.LonLat, on time.Time) float64 {
	return l.column(l.frame(p)).level(l.Season(on), l.YearEffect(on))
}

// core is a column with what it was made from.
type core struct {
	Column
	at     pt
	relief relief
	water
}

func (l *Land) column(p pt) core {
	r := l.reliefAt(p)
	if r.shoreM < 0 {
		r.fillM = 0
	}
	sand := l.stripAt(r)
	cover := max(sand.baseM(), r.fillM)
	confined := l.confinedAt(p, r.fillM)
	soils := l.profileAt(p, r, cover)
	c := core{at: p, relief: r, water: l.waterAt(p, r, soils, confined)}
	s := &stack{layers: make([]Layer, 0, 16)}
	s.lay(TopSoil, soils.topsoil*ramp(r.shoreM, 100, 600))
	l.layStrip(s, p, sand)
	l.layFill(s, p, r.fillM, confined)
	s.layProfile(soils)
	c.Layers = l.conduct(s.layers, p)
	c.Column.GroundM, c.AboveDrainageM, c.ToDrainageM = r.groundM, r.aboveM, r.toM
	c.Setting = settingOf(r, sand.baseM(), soils)
	l.fillLevels(&c, soils)
	return c
}

func settingOf(r relief, stripM float64, soils profile) Setting {
	switch {
	case r.shoreM < 0:
		return Sea
	case stripM >= 3 && stripM > r.fillM:
		return Coast
	case r.fillM >= 4:
		return Valley
	case soils.crust >= 0.5:
		return Plateau
	}
	return Hillside
}

// conduct gives every layer its class and conductivity: the usual one of its class, a
// correlated field, and how open this region's rock is.
func (l *Land) conduct(layers []Layer, p pt) []Layer {
	rock, loose := 0.35*l.fields[uplandKField].at(p), 0.3*l.fields[fillKField].at(p)
	for i := range layers {
		m := layers[i].Unit.material()
		k := soil.ConductivityOf(m.class, m.grade, m.clayey).Log10MPerS + m.kDecades
		if m.class == soil.WeatheredRock || m.class == soil.FracturedRock {
			k += rock + l.kShift
		} else {
			k += loose
		}
		layers[i].Class, layers[i].Grade, layers[i].Clayey, layers[i].Log10K = m.class, m.grade, m.clayey, k
	}
	return layers
}

func (l *Land) fillLevels(c *core, soils profile) {
	c.NormalLowM = c.level(0, 0)
	c.DesignLowM = c.level(0, tenYear*l.yearSDM)
	c.WetHighM = c.level(1, 0)
	c.StrikeM = c.strikeM(c.NormalLowM)
	c.Confined = c.StrikeM > c.NormalLowM+confinedM
	if c.Setting == Plateau {
		c.PerchedM = geo.Some(soils.topsoil + 0.3*soils.crust)
	}
	if salt := c.NormalLowM + 41*(c.GroundM-c.NormalLowM); c.relief.shoreM < 1.5*l.stripM && salt < ColumnM {
		c.SaltBelowM = geo.Some(max(salt, 0)) // fresh to 40 times the head below sea level (Ghyben-Herzberg, from memory)
	}
}

// strikeM is the depth at which water comes in when rest stands at restM: there, or at
// the top of the first layer below that gives water.
func (c Column) strikeM(restM float64) float64 {
	for _, l := range c.Layers {
		if l.BaseM > max(restM, 0)+0.05 && l.GivesWater() {
			return max(l.TopM, restM)
		}
	}
	return ColumnM
}

// LayerAt returns the layer at a depth, the lower one at a boundary.
func (c Column) LayerAt(depthM float64) Layer {
	for _, l := range c.Layers {
		if depthM < l.BaseM {
			return l
		}
	}
	return c.Layers[len(c.Layers)-1]
}
