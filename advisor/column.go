package advisor

import (
	"math/rand/v2"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// logOf cuts a bore's layers into cells: each takes the class of the layer that covers
// its middle, the first one where layers overlap.
func logOf(b *evidence.Bore) strata.Log {
	deepest := float32(0)
	for _, l := range b.Layers {
		if l.Class != soil.Unknown {
			deepest = max(deepest, l.BaseM)
		}
	}
	n := min(int(deepest/strata.CellM+0.5), strata.Cells)
	log := strata.Log{Cells: make([]soil.Class, n), Refused: refused(b)}
	for i := range log.Cells {
		if l, ok := layerAt(b, i); ok {
			log.Cells[i] = l.Class
		}
	}
	return log
}

func layerAt(b *evidence.Bore, cell int) (evidence.Layer, bool) {
	middle := (float32(cell) + 0.5) * strata.CellM
	for _, l := range b.Layers {
		if l.TopM <= middle && middle < l.BaseM {
			return l, true
		}
	}
	return evidence.Layer{}, false
}

// refused reports that a bore ended at ground its method could not pass.
func refused(b *evidence.Bore) bool {
	return b.Method != geo.MethodMachine && (b.Outcome == geo.Refused || b.RefusalM.Known())
}

// groundFrom completes a bore's log into one possible ground.
func groundFrom(m *strata.Model, b *evidence.Bore, rng *rand.Rand) ground {
	g := ground{classes: m.Complete(logOf(b), rng)}
	for i, class := range g.classes {
		grade, clayey := soil.GradeUnknown, false
		if l, ok := layerAt(b, i); ok && l.Class == class {
			grade, clayey = l.Grade, l.Clayey
		}
		g.t[i+1], g.giving[i+1] = g.t[i], g.giving[i]
		if worthScreening(class) {
			g.t[i+1] += soil.ConductivityOf(class, grade, clayey).MetresPerDay() * strata.CellM
			g.giving[i+1]++
			g.solid[i+1] = g.solid[i] + 1
		}
	}
	return g
}

// worthScreening reports that a class is one that a screen is set against.
func worthScreening(class soil.Class) bool {
	switch class {
	case soil.Sand, soil.Gravel, soil.WeatheredRock, soil.FracturedRock:
		return true
	}
	return false
}
