package demoland

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Limits says how far a method gets in known ground.
type Limits struct {
	MaxDepthM   float64 // the deepest that its string reaches
	BelowWaterM float64 // how far below water it can go
	// PassM is how many metres of each class one hole can cross: 0 stops the bit, +Inf
	// is free.
	PassM [soil.Count + 1]float64
}

// refusalM returns the depth at which ground stops the bit and that ground's class;
// +Inf when none does. ease scales what slow ground can be crossed.
func (l Limits) refusalM(layers []Layer, ease float64) (float64, soil.Class) {
	var crossed [soil.Count + 1]float64
	for _, layer := range layers {
		left := l.PassM[layer.Class]*ease - crossed[layer.Class]
		if thick := layer.BaseM - layer.TopM; thick > left {
			return layer.TopM + max(left, 0), layer.Class
		}
		crossed[layer.Class] += layer.BaseM - layer.TopM
	}
	return math.Inf(1), soil.Unknown
}

// Crew is a method as it was used: its limits, and when its people stop.
type Crew struct {
	Method        geo.Method
	Limits        Limits
	HoleMM        float64
	BelowStrikeM  float64 // how far below the strike they wish to go
	CollapseShare float64 // how often a hole in wet sand is lost
}

// pass builds a PassM: unlisted classes are free.
func pass(stops []soil.Class, slow map[soil.Class]float64) [soil.Count + 1]float64 {
	var out [soil.Count + 1]float64
	for i := range out {
		out[i] = math.Inf(1)
	}
	for _, c := range stops {
		out[c] = 0
	}
	for c, m := range slow {
		out[c] = m
	}
	return out
}

// Crews returns the crews that worked in the region, one per method, in a fixed order.
// Depths, reach and stops follow WEDC Technical Brief 43 table 1 and Akvopedia; the
// crossable thicknesses, the wished depth below the strike (3 m and better 5-8) and the
// share of collapses are common practice, no source.
func Crews() []Crew {
	rocks := []soil.Class{soil.FracturedRock, soil.Rock}
	hard := append([]soil.Class{soil.Hardpan, soil.WeatheredRock}, rocks...)
	return []Crew{
		{"auger", Limits{20, 6, pass(append([]soil.Class{soil.Hardpan}, rocks...),
			map[soil.Class]float64{soil.Gravel: 0.5, soil.WeatheredRock: 2})}, 150, 3.5, 0.06},
		{"percussion", Limits{25, 8, pass([]soil.Class{soil.Rock},
			map[soil.Class]float64{soil.Hardpan: 2, soil.WeatheredRock: 10, soil.FracturedRock: 0.5})}, 150, 5, 0.03},
		{"sludging", Limits{30, 30, pass(hard, map[soil.Class]float64{soil.Gravel: 1})}, 75, 7, 0.03},
		{"rotary-sludging", Limits{30, 30, pass(rocks,
			map[soil.Class]float64{soil.Gravel: 1, soil.Hardpan: 1, soil.WeatheredRock: 4})}, 100, 7, 0.03},
		{"jetting", Limits{20, 20, pass(hard,
			map[soil.Class]float64{soil.Gravel: 0.5, soil.Clay: 5})}, 75, 6, 0.05},
		{geo.MethodMachine, Limits{60, 60, pass(nil, nil)}, 150, 12, 0.01},
	}
}
