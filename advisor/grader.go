package advisor

import (
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/strata"
	"waterstrike/geo/soil"
)

// grader gives columns at one place the grades that logs found, and the conductivities that
// the region's tests teach. Every cell has its own: one sand may lie on another.
type grader struct {
	logs  []evidence.Near // close by, nearest first
	k     *hydraulics.Conductivities
	close [soil.Count + 1]lookalike // in the first of the logs that has the class
	own   [soil.Count + 1]lookalike // in the log that a column is like first of all
	gives map[hydraulics.Material]yielding
}

// lookalike are the layers that the ground of one class is like, once they were looked for.
type lookalike struct {
	looked bool
	layers []graded
}

// graded is a layer with what a cell of it gives.
type graded struct {
	topM, baseM float32
	gives       yielding
}

func newGrader(logs []evidence.Near, k *hydraulics.Conductivities) *grader {
	return &grader{logs: logs[:min(closest, len(logs))], k: k, gives: map[hydraulics.Material]yielding{}}
}

// grade makes an empty ground that of a column, with the grades of one log, which may be nil,
// before those of the logs close by; below so many cells it gives no water.
func (x *grader) grade(g *ground, classes strata.Column, first *evidence.Bore, cells int) {
	g.classes = classes
	for class := range x.own {
		x.own[class].looked = false
	}
	for i, class := range classes[:cells] {
		g.t[i+1], g.giving[i+1] = g.t[i], g.giving[i]
		if !WorthScreening(class) {
			continue
		}
		g.t[i+1] = g.t[i].plus(x.like(class, i, first), 1)
		g.giving[i+1]++
		g.solid[i+1] = g.solid[i] + 1
	}
}

// like is what a cell of a class gives: as the nearest layer of the class in the first log
// that has one.
func (x *grader) like(class soil.Class, cell int, first *evidence.Bore) yielding {
	of := &x.own[class]
	if !of.looked {
		of.looked, of.layers = true, of.layers[:0]
		if first != nil {
			of.layers = x.layers(of.layers, class, first)
		}
	}
	if len(of.layers) == 0 {
		of = x.closeBy(class)
	}
	best, middleM := &of.layers[0], (float32(cell)+0.5)*strata.CellM
	for i := 1; i < len(of.layers); i++ {
		if l := &of.layers[i]; l.apart(middleM) < best.apart(middleM) {
			best = l
		}
	}
	return best.gives
}

func (l *graded) apart(depthM float32) float32 { return max(l.topM-depthM, depthM-l.baseM, 0) }

// closeBy are the layers of a class in the first log close by that has one; one without a
// grade where none has.
func (x *grader) closeBy(class soil.Class) *lookalike {
	of := &x.close[class]
	for i := 0; !of.looked && i < len(x.logs); i++ {
		of.layers = x.layers(of.layers, class, x.logs[i].Bore)
		of.looked = len(of.layers) > 0
	}
	if !of.looked {
		of.looked, of.layers = true, append(of.layers, graded{gives: x.yielding(evidence.Layer{Class: class})})
	}
	return of
}

// layers appends those of a class in a log.
func (x *grader) layers(out []graded, class soil.Class, log *evidence.Bore) []graded {
	for _, l := range log.Layers {
		if l.Class == class {
			out = append(out, graded{l.TopM, l.BaseM, x.yielding(l)})
		}
	}
	return out
}

// yielding is what a cell of a layer gives.
func (x *grader) yielding(l evidence.Layer) yielding {
	m := hydraulics.Material{Class: l.Class, Grade: l.Grade, Clayey: l.Clayey}
	y, ok := x.gives[m]
	if !ok {
		y = cellOf(x.k.Of(m.Class, m.Grade, m.Clayey))
		x.gives[m] = y
	}
	return y
}
