package advisor

import (
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
	log := strata.Log{Cells: make([]soil.Class, n), Refused: refused(b), Method: b.Method}
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

// likes finds the layer that the ground of a class is like; it remembers in which log.
type likes [soil.Count + 1]struct {
	looked bool
	layers []evidence.Layer // of the class, in the first log that has one
}

// at returns the layer of a class nearest to a cell in the first log that has one; one
// without a grade where none has.
func (x *likes) at(class soil.Class, cell int, logs []evidence.Near) evidence.Layer {
	of := &x[class]
	if !of.looked {
		of.looked, of.layers = true, layersOf(class, logs)
	}
	like, middleM := evidence.Layer{Class: class}, (float32(cell)+0.5)*strata.CellM
	for i, l := range of.layers {
		if i == 0 || apart(l, middleM) < apart(like, middleM) {
			like = l
		}
	}
	return like
}

func layersOf(class soil.Class, logs []evidence.Near) (out []evidence.Layer) {
	for _, log := range logs {
		for _, l := range log.Layers {
			if l.Class == class {
				out = append(out, l)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// apart is how far a layer lies above or below a depth, metres.
func apart(l evidence.Layer, depthM float32) float32 {
	return max(l.TopM-depthM, depthM-l.BaseM, 0)
}

// WorthScreening reports that a class is one that a screen is set against.
func WorthScreening(class soil.Class) bool {
	switch class {
	case soil.Sand, soil.Gravel, soil.WeatheredRock, soil.FracturedRock:
		return true
	}
	return false
}
