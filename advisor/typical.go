package advisor

import (
	"math"
	"slices"

	"waterstrike/advisor/strata"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// typical is the one well that is drawn: into the likeliest layers, which the advice shows,
// where a well fits there that is about as deep as the others; else into the possible
// ground that is most like them among those of middling depth, and then it says so. Both
// stand in the water that the advice shows; only where no well of such a depth fits it, in
// that ground's own.
func (out *Advice) typical(columns []welldesign.Possible, wells []welldesign.Well, odds strata.Odds, bottom Range, b *builder) (welldesign.Site, welldesign.Well, error) {
	most := mostLike(columns, wells, odds)
	shown := welldesign.Site{Layers: likeliestLayers(odds, columns), Water: out.Water.middle(), AltitudeM: columns[most].AltitudeM}
	well, err := welldesign.Design(shown, b.Kit)
	if err != nil || well.Verdict == welldesign.Fits && bottom.P10 <= well.BottomM && well.BottomM <= bottom.P90 {
		if screensSand(shown, well) {
			well.Notes = append(well.Notes, geo.Say("well.note.sand-foretold"))
		}
		return shown, well, err
	}
	why := geo.Say(otherGround)
	if well.Verdict == welldesign.Fits {
		why = geo.Say(otherDepth, geo.With("depth", geo.Metres(well.BottomM)))
	}
	site := columns[most].Site
	site.Water = shown.Water
	if well, err = welldesign.Design(site, b.Kit); err != nil {
		return site, well, err
	}
	if well.Verdict != welldesign.Fits || well.BottomM < bottom.P10 || well.BottomM > bottom.P90 {
		site, well = columns[most].Site, wells[most]
	}
	well.Notes = append([]geo.Message{why}, well.Notes...)
	return site, well, nil
}

// screensSand reports sand behind the screen whose grade is the columns'.
func screensSand(site welldesign.Site, w welldesign.Well) bool {
	return slices.ContainsFunc(site.Layers, func(l welldesign.Layer) bool {
		return l.Class == soil.Sand && l.Grade != soil.GradeUnknown && l.TopM < w.ScreenM[1] && l.BaseM > w.ScreenM[0]
	})
}

// The first note of a well that is not drawn into the likeliest layers: why.
const (
	otherGround geo.Code = "well.note.other-ground"
	otherDepth  geo.Code = "well.note.other-depth"
)

// middle is the water that the advice shows.
func (w *Water) middle() welldesign.Water {
	return welldesign.Water{WetHighM: w.WetHigh.P50, NormalLowM: w.NormalLow.P50, DesignLowM: w.DesignLow.P50}
}

// likeliestLayers are the layers that the advice shows, each as fine and as clayey as most of
// what may lie there of its class: the odds tell no grade, and sand of no grade would be
// built for as sand of any.
func likeliestLayers(odds strata.Odds, columns []welldesign.Possible) (out []welldesign.Layer) {
	for _, l := range odds.Layers() {
		layer := welldesign.Layer{TopM: l.TopM, BaseM: l.BaseM, Class: l.Class}
		layer.Grade, layer.Clayey = usualGrade(columns, layer)
		out = append(out, layer)
	}
	return out
}

// usualGrade is the grade that most of the metres of a layer's class have in the columns
// between its top and its base; none where none of them has that class there.
func usualGrade(columns []welldesign.Possible, of welldesign.Layer) (grade soil.Grade, clayey bool) {
	type kind struct {
		grade  soil.Grade
		clayey bool
	}
	metres := map[kind]float64{}
	for _, c := range columns {
		for _, l := range c.Layers {
			if common := min(l.BaseM, of.BaseM) - max(l.TopM, of.TopM); l.Class == of.Class && common > 0 {
				metres[kind{l.Grade, l.Clayey}] += c.Weight * common
			}
		}
	}
	most := 0.0
	for g := soil.GradeUnknown; g <= soil.Coarse; g++ {
		for _, mixed := range [...]bool{false, true} {
			if m := metres[kind{g, mixed}]; m > most {
				most, grade, clayey = m, g, mixed
			}
		}
	}
	return grade, clayey
}

// mostLike is the column with a well that fits, among those of middling depth, whose layers
// the odds make likeliest down to the well's bottom, cell by cell on average.
func mostLike(columns []welldesign.Possible, wells []welldesign.Well, odds strata.Odds) int {
	middling := bottomsBetween(wells, 0.25, 0.75)
	best, highest := -1, math.Inf(-1)
	for i, w := range wells {
		if w.Verdict != welldesign.Fits || w.BottomM < middling[0] || w.BottomM > middling[1] {
			continue
		}
		if like := likeness(columns[i].Layers, odds, w.BottomM); like > highest {
			best, highest = i, like
		}
	}
	return best
}

// likeness is the mean logarithm of the odds of a column's classes down to a depth.
func likeness(layers []welldesign.Layer, odds strata.Odds, bottomM float64) float64 {
	sum, cells := 0.0, 0
	for _, l := range layers {
		if l.Class == soil.Unknown {
			continue
		}
		for z := l.TopM + strata.CellM/2; z < min(l.BaseM, bottomM); z += strata.CellM {
			sum += math.Log(max(odds[int(z/strata.CellM)][l.Class-1], 1e-9)) // the odds have a floor far above
			cells++
		}
	}
	return sum / float64(max(cells, 1))
}
