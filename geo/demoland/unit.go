package demoland

import "waterstrike/geo/soil"

// Unit names a body of ground that was laid down or weathered as one.
type Unit string

// The units, from the surface down as a usual profile has them.
const (
	TopSoil       Unit = "topsoil"
	Crust         Unit = "crust"          // laterite on what is left of the old land surface
	MottledClay   Unit = "mottled-clay"   // the top of the weathered rock, gone to clay
	Saprolite     Unit = "saprolite"      // clay-rich weathered rock
	Grus          Unit = "grus"           // sandy base of the weathered rock
	BrokenRock    Unit = "broken-rock"    // fractured
	FreshRock     Unit = "fresh-rock"     //
	FloodClay     Unit = "flood-clay"     // upper clay of a valley fill
	FloodSilt     Unit = "flood-silt"     //
	LowerClay     Unit = "lower-clay"     //
	FineLens      Unit = "fine-lens"      // old channels, by what fills them
	MediumLens    Unit = "medium-lens"    //
	CoarseLens    Unit = "coarse-lens"    //
	GravelLens    Unit = "gravel-lens"    //
	DirtyLens     Unit = "dirty-lens"     // clayey sand
	ValleyGravel  Unit = "valley-gravel"  // at the base of a fill
	ConfiningClay Unit = "confining-clay" // over the confined sand
	ConfinedSand  Unit = "confined-sand"  //
	DuneSand      Unit = "dune-sand"      //
	BeachSand     Unit = "beach-sand"     //
	LagoonClay    Unit = "lagoon-clay"    //
	OldBeachSand  Unit = "old-beach-sand" //
)

// material is what a unit is made of; kDecades sets its conductivity against the usual
// of its class.
type material struct {
	class    soil.Class
	grade    soil.Grade
	clayey   bool
	kDecades float64
}

// material returns what the unit is made of. Saprolite and its sandy base: 0.01-0.5 and
// 0.5-5 m/d (Chilton & Foster 1995; Taylor & Howard 2000, from memory): here about 0.25
// and 2.2 m/d.
func (u Unit) material() material {
	switch u {
	case TopSoil:
		return material{class: soil.Topsoil}
	case Crust:
		return material{class: soil.Hardpan}
	case MottledClay, FloodClay, LowerClay, ConfiningClay, LagoonClay:
		return material{class: soil.Clay}
	case Saprolite:
		return material{class: soil.WeatheredRock, kDecades: -0.3}
	case Grus:
		return material{class: soil.WeatheredRock, kDecades: 0.65}
	case BrokenRock:
		return material{class: soil.FracturedRock}
	case FloodSilt:
		return material{class: soil.Silt}
	case FineLens, DuneSand:
		return material{class: soil.Sand, grade: soil.Fine}
	case MediumLens, ConfinedSand, BeachSand:
		return material{class: soil.Sand, grade: soil.Medium}
	case CoarseLens, OldBeachSand:
		return material{class: soil.Sand, grade: soil.Coarse}
	case DirtyLens:
		return material{class: soil.Sand, grade: soil.Fine, clayey: true}
	case GravelLens, ValleyGravel:
		return material{class: soil.Gravel, clayey: u == ValleyGravel}
	default:
		return material{class: soil.Rock}
	}
}

// Layer is one interval of one unit in a column.
type Layer struct {
	TopM, BaseM float64
	Unit        Unit
	Body        int // which lens, 1 and up; 0 for units that are one body everywhere
	Class       soil.Class
	Grade       soil.Grade
	Clayey      bool
	Log10K      float64 // of hydraulic conductivity in m/s
}

// givesWater is the least log10 K at which a crew notices water: about 0.03 m/d.
const givesWater = -6.5

// GivesWater reports whether the layer lets in enough water for a crew to notice and a
// screen to be set against it.
func (l Layer) GivesWater() bool {
	switch l.Class {
	case soil.Sand, soil.Gravel, soil.WeatheredRock, soil.FracturedRock:
		return l.Log10K >= givesWater
	}
	return false
}
