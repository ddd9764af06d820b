package advisor

import "waterstrike/advisor/strata"

// screen is a place for the screen with what its ground may give, and how many times the
// needed transmissivity that is; 0 when nothing there gives water.
type screen struct {
	topM, baseM float64
	gives       yielding
	enough      float64
}

// works is the chance that the yield passes, by band.
func (s screen) works() (p [bands]float64) {
	if s.enough == 0 {
		return p
	}
	return s.gives.passes(s.enough)
}

// window is the longest stretch of ground that gives water which a screen may stand in above
// one base, whatever lies over it.
type window struct {
	base    int // cells
	topM, t float64
}

// windows are those of one ground, downwards, with their transmissivity t, m²/d.
type windows struct {
	list [strata.Cells]window
	n    int
}

// of looks for the windows of at most so many cells in the first so many of a ground.
func (w *windows) of(g *ground, long int16, cells int) {
	w.n = 0
	for base := 1; base <= cells; base++ {
		if g.solid[base] < screenMinM/strata.CellM {
			continue
		}
		top := base - int(min(long, g.solid[base])) // neither screen nor pack joins two layers across a tight one
		w.list[w.n] = window{base, float64(top) * strata.CellM, g.t[base].t - g.t[top].t}
		w.n++
	}
}

// bestScreen looks for the window between roof and floor whose transmissivity exceeds the
// needed one by most. A window needs screenMinM of ground that gives water and coverM of
// water over its intake.
func (x *trial) bestScreen(in *windows, roof, floor, designM float64) screen {
	most, at := 0.0, -1
	first, last := int(roof/strata.CellM), min(int(floor/strata.CellM+1e-9), strata.Cells)
	for i := range in.list[:in.n] {
		w := &in.list[i]
		if w.base <= first {
			continue
		}
		if w.base > last {
			break
		}
		t, baseM := w.t, float64(w.base)*strata.CellM
		if w.topM < roof {
			if baseM-roof < screenMinM-1e-9 {
				continue
			}
			t = x.tBetween(roof, w.base)
		}
		if enough := t * x.perNeededT(baseM-coverM-designM); enough > most {
			most, at = enough, i
		}
	}
	if at < 0 {
		return screen{}
	}
	topM, base := max(roof, in.list[at].topM), in.list[at].base
	return screen{topM: topM, baseM: float64(base) * strata.CellM, gives: x.between(topM, base), enough: most}
}

// between is what the ground between a depth and the top of a cell may give.
func (g *ground) between(topM float64, base int) yielding {
	cell := int(topM / strata.CellM)
	part := topM/strata.CellM - float64(cell)
	above := g.t[cell].plus(g.t[cell+1], part).plus(g.t[cell], -part)
	return g.t[base].plus(above, -1)
}

// tBetween is the transmissivity of between alone.
func (g *ground) tBetween(topM float64, base int) float64 {
	cell := int(topM / strata.CellM)
	part := topM/strata.CellM - float64(cell)
	return g.t[base].t - (g.t[cell].t + part*(g.t[cell+1].t-g.t[cell].t))
}

// perNeededT is one over the transmissivity that the duty needs for a drawdown, in the
// middle of two tabulated ones by a straight line: it is all but one.
func (d *driller) perNeededT(allowedM float64) float64 {
	at, last := allowedM/strata.CellM, len(d.perNeeded)-1
	if at <= 0 {
		return d.perNeeded[0]
	}
	if at >= float64(last) {
		return d.perNeeded[last]
	}
	i := int(at)
	return d.perNeeded[i] + (at-float64(i))*(d.perNeeded[i+1]-d.perNeeded[i])
}
