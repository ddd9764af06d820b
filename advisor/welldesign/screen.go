package welldesign

import (
	"math"

	"waterstrike/advisor/hydraulics"
)

// window is a place for the screen.
type window struct {
	topM, baseM float64
	cell        int // the lowest cell behind it
	belief      hydraulics.TBelief
	usableM     float64 // drawdown that leaves the cover over its foot, as of full ground
	chance      float64 // that it gives what is wanted
}

// footEvery is how many cells lie between the depths that are tried for a screen's foot.
const footEvery = 5

// surely is the chance from which more screen or depth is not worth its pipe; hardly that
// below which nothing is designed: a bailer test decides between the two, and the design
// says so. likely is the chance from which water that cannot be kept clean tempts.
const (
	surely = 0.9
	likely = 0.5
	hardly = 0.1
)

// limits are the rules that keep a screen down.
type limits struct{ seal, apart bool }

// all is what a safe well keeps.
var all = limits{seal: true, apart: true}

// above is how much seal, clay and pack stand over a screen at least.
func (r Rules) above() float64 {
	return r.Seal.Least.Value + r.Seal.Clay.Value + r.Pack.Top.Value().LeastM
}

// roofM is the least depth of the top of a screen behind which cell i lies lowest: below
// the design low; below seal, clay and pack; and so far below another body of water that
// clay and pack fit under it.
func (d *drilled) roofM(i int, l limits) float64 {
	r := d.Rules
	roof := d.site.Water.DesignLowM
	if l.seal {
		roof = max(roof, r.above())
	}
	if !l.apart {
		return roof
	}
	if base, other := d.aboveM(i); other {
		roof = max(roof, base+r.Seal.Clay.Value+r.Pack.Top.Value().LeastM)
	}
	if r.Pack.Top.Value().WithinLayer {
		roof = max(roof, d.topOf(i)+r.Pack.Top.Value().LeastM)
	}
	return roof
}

// windows lists the places for a screen of at most longM that keep the limits, with its foot
// at each half metre and at the lowest depth of each layer, from the shallowest down. A
// screen stands in unbroken ground that gives water.
func (d *drilled) windows(longM float64, l limits) ([]window, error) {
	var out []window
	start := -1
	floor := d.reachM - d.Rules.Screen.Sump.Value
	for i := 0; i < len(d.body) && at(i+1) <= floor+slackM; i++ {
		if d.body[i] < 0 {
			start = -1
			continue
		}
		if start < 0 {
			start = i
		}
		base := i + 1
		lowest := base == len(d.body) || d.body[base] < 0 || at(base+1) > floor+slackM
		if !lowest && base%footEvery != 0 {
			continue
		}
		top := max(start, up(d.roofM(i, l)), base-int(longM/cellM+0.5))
		length := at(base) - at(top)
		if length < d.Rules.Screen.Least.Value-slackM || length < longM-slackM && !lowest {
			continue // too short, or shorter than there is room for further down
		}
		w, ok, err := d.judge(window{topM: at(top), baseM: at(base), cell: i})
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, w)
		}
	}
	return out, nil
}

// judge works out the chance that a window gives what is wanted at the design low, with the
// cover of water left over its foot; ok is false where no water is left to draw down.
func (d *drilled) judge(w window) (window, bool, error) {
	over, length := w.topM-d.site.Water.DesignLowM, w.baseM-w.topM
	cover := d.Rules.Yield.Cover.Value
	if over+length <= cover+slackM {
		return w, false, nil
	}
	var err error
	if w.usableM, err = hydraulics.Usable(max(over, 0), length, cover); err != nil || w.usableM <= slackM {
		return w, false, err
	}
	if w.belief, err = d.Ground.Transmissivity(d.behind(w)); err != nil {
		return w, false, err
	}
	needed, err := hydraulics.NeededT(d.duty(d.Method.HoleMM), w.usableM)
	w.chance = w.belief.Passes(needed)
	return w, true, err
}

// behind are the layers behind a window.
func (d *drilled) behind(w window) []hydraulics.Interval {
	var out []hydraulics.Interval
	last := -1
	for i := down(w.topM); i <= w.cell; i++ {
		l := d.layers[d.layer[i]]
		if d.layer[i] != last {
			out = append(out, hydraulics.Interval{Material: hydraulics.Material{Class: l.Class, Grade: l.Grade, Clayey: l.Clayey}})
			last = d.layer[i]
		}
		out[len(out)-1].ThickM += cellM
	}
	return out
}

// duty is what is asked of the well.
func (k Kit) duty(holeMM float64) hydraulics.Duty {
	duty := hydraulics.HandPump(holeMM)
	duty.DischargeM3D = k.Rules.Yield.Wanted.Value * 86.4
	duty.Days = k.Rules.Yield.Hours.Value / 24
	return duty
}

// place chooses the window: in the first body where one of the usual length surely yields,
// the shallowest that stands as far below the dry season's low as the rules wish, or the
// deepest; else of the longest screens likewise; else the one most likely to yield.
func (d *drilled) place(l limits) (best window, ok bool, err error) {
	deep := d.site.Water.NormalLowM + d.Rules.Screen.BelowLow.Value
	for _, longM := range []float64{d.Rules.Screen.Usual.Value, d.Rules.Screen.Longest.Value} {
		list, err := d.windows(longM, l)
		if err != nil {
			return best, false, err
		}
		sure := window{}
		for _, w := range list {
			further := sure.baseM == 0 || sure.baseM < deep-slackM && d.body[w.cell] == d.body[sure.cell]
			if w.chance >= surely && further {
				sure = w
			}
			if w.chance > best.chance || !ok {
				best, ok = w, true
			}
		}
		if sure.baseM > 0 {
			return sure, true, nil
		}
	}
	return best, ok, nil
}

// fallM is how far a drawdown of full ground lets the water in the well fall where the
// ground behind the screen may run partly dry; the inverse of [hydraulics.Usable].
func fallM(s, overM, lengthM float64) float64 {
	if s <= overM {
		return s
	}
	left := lengthM*lengthM - 2*lengthM*(s-overM)
	return overM + lengthM - math.Sqrt(max(0, left))
}
