package welldesign

import (
	"math"

	"waterstrike/geo"
)

// surround sets pipe and fills. The seal wins over the pack: cement from the ground for the
// least length at any rate, clay under it, and the pack takes what is left over the screen,
// up to its best length and never up to another body of water.
//
// Source: seal of 3 m and more, clay of 0.5 m and more between cement and pack, pack 2 m
// above the screen where it fits and 0.6 m at least: the rules' own sources.
func (d *drilled) surround(w *Well, at window) {
	r := d.Rules
	w.Pipes = []geo.Pipe{
		d.pipe(w, geo.Casing, 0, w.ScreenM[0]),
		d.pipe(w, geo.Screen, w.ScreenM[0], w.ScreenM[1]),
		d.pipe(w, geo.Plug, w.ScreenM[1], w.BottomM),
	}
	clay := r.Seal.Clay.Value
	if w.Casing.Natural {
		w.WidenM = r.Seal.Least.Value + clay
		w.Fills = []geo.Fill{
			{Kind: geo.Grout, TopM: 0, BaseM: r.Seal.Least.Value},
			{Kind: geo.ClaySeal, TopM: r.Seal.Least.Value, BaseM: w.WidenM},
		}
		return
	}
	packTop := tenth(d.packTopM(at))
	if packTop-r.Seal.ClayBest.Value >= r.Seal.Best.Value {
		clay = r.Seal.ClayBest.Value
	}
	clayTop := tenth(packTop - clay)
	cement := clayTop
	if cement-r.Seal.Best.Value >= clay {
		cement = r.Seal.Best.Value
	}
	w.Fills = []geo.Fill{{Kind: geo.Grout, TopM: 0, BaseM: cement}}
	if cement < clayTop {
		kind := geo.Backfill
		if d.holdsBody(max(cement, d.site.Water.WetHighM), clayTop, d.body[at.cell]) {
			kind = geo.ClaySeal // cuttings would let one water run down to another; sand that never holds any needs none
		}
		w.Fills = append(w.Fills, geo.Fill{Kind: kind, TopM: cement, BaseM: clayTop})
	}
	w.Fills = append(w.Fills,
		geo.Fill{Kind: geo.ClaySeal, TopM: clayTop, BaseM: packTop},
		geo.Fill{Kind: geo.Pack, TopM: packTop, BaseM: w.BottomM})
}

// packTopM is the top of the pack over a window.
func (d *drilled) packTopM(w window) float64 {
	r := d.Rules
	clay, top := r.Seal.Clay.Value, r.Pack.Top.Value()
	highest := max(w.topM-top.BestM, r.Seal.Least.Value+clay)
	if base, other := d.aboveM(w.cell); other {
		highest = max(highest, base+clay)
	}
	if top.WithinLayer {
		highest = max(highest, d.topOf(w.cell))
	}
	return min(highest, w.topM-top.LeastM)
}

func (d *drilled) pipe(w *Well, kind geo.PipeKind, topM, baseM float64) geo.Pipe {
	p := geo.Pipe{Kind: kind, TopM: topM, BaseM: baseM, DiameterMM: geo.Some(w.Casing.OutsideMM)}
	if kind == geo.Screen {
		p.SlotMM = geo.Some(w.Filter.SlotMM)
	}
	return p
}

func exp10(x float64) float64 { return math.Pow(10, x) }
