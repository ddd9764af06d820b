package advisor

import (
	"math"

	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo/terrain"
)

// smoothM is how rough ground is that counts as flat, by the standard deviation of its
// elevations: those of global grids are whole metres.
const smoothM = 0.5

// settingOf returns the terms of the land that layers may follow: those that water follows,
// and how rough the ground is close by, since what rivers laid down is flat and what they cut
// is not. Nil where the land is not known.
//
//   - Units: metres; terms are pure numbers.
//   - Source: flatness to tell deposits from hillsides, Gallant and Dowling, Water Resources
//     Research 39 (2003); the two windows by how well they tell valleys of invented regions
//     that are not among those reported.
func settingOf(s terrain.Setting) strata.Setting {
	around, ok := s.Around.Get()
	terms := level.LandOf(s).Terms()
	if !ok || terms == nil {
		return nil
	}
	for _, roughM := range around.RoughM {
		terms = append(terms, math.Log(roughM+smoothM))
	}
	return terms
}
