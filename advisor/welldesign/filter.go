package welldesign

import (
	"cmp"
	"math"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// FilterKind is what keeps the ground out of the screen.
type FilterKind string

// The kinds of filter.
const (
	PlacedPack  FilterKind = "placed"  // sand or gravel put around the screen
	NaturalPack FilterKind = "natural" // the ground itself, once its fines are washed out
)

// Filter is the pack and the slots that go with it.
type Filter struct {
	Kind    FilterKind `json:"kind"`
	LoMM    float64    `json:"loMM"` // grains of a placed pack
	HiMM    float64    `json:"hiMM"`
	SlotMM  float64    `json:"slotMM"`
	ByHand  bool       `json:"byHand"`  // a saw cuts such slots
	SpaceMM float64    `json:"spaceMM"` // around the pipe
}

// leastSawMM is the finest slot that a hand saw cuts; common practice: 0.8-1.2 mm.
const leastSawMM = 0.8

// packs are the usual packs of hand-drilled wells by the grain of the finest ground behind
// them, with slots that hold nine tenths of the pack back: 1-3 mm for fine to medium sand
// and 2-5 mm for coarse (common practice, no source). Fine sand has a middle grain of about
// 0.11 mm (EN ISO 14688-1: 0.063-0.2 mm), through which four to six times make 0.4-0.7 mm:
// there the usual pack would let the sand in, and a finer one with factory slots is asked.
func packOf(g soil.Grade, class soil.Class, slotMM float64) Filter {
	switch {
	case class == soil.Sand && g == soil.Fine:
		return Filter{LoMM: 0.5, HiMM: 1, SlotMM: min(0.5, slotMM)}
	case class == soil.Gravel || class == soil.Sand && g == soil.Coarse:
		return Filter{LoMM: 2, HiMM: 5, SlotMM: max(slotMM, 1)}
	}
	return Filter{LoMM: 1, HiMM: 3, SlotMM: slotMM}
}

// naturalSlotMM holds about half of the ground back: 40-60 % (Lifewater, screen, read in
// the source), so that its middle grain is the slot.
func naturalSlotMM(g soil.Grade, class soil.Class) float64 {
	lo, hi := grainsMM(g, class)
	return math.Round(10*math.Sqrt(lo*hi)) / 10
}

// grainsMM are the grains of a grade: EN ISO 14688-1 (from memory but for 0.063 mm). A sand
// of no stated grade is taken as fine to medium.
func grainsMM(g soil.Grade, class soil.Class) (lo, hi float64) {
	switch {
	case class == soil.Gravel:
		return 2, 63
	case g == soil.Fine:
		return 0.063, 0.2
	case g == soil.Medium:
		return 0.2, 0.63
	case g == soil.Coarse:
		return 0.63, 2
	}
	return 0.063, 0.63
}

// filter chooses the pack for the finest ground behind a window.
func (d *drilled) filter(w window, c Casing) Filter {
	l := d.finest(w)
	f := packOf(l.Grade, l.Class, d.Rules.Screen.Slot.Value)
	f.Kind = PlacedPack
	if c.Natural {
		f = Filter{Kind: NaturalPack, SlotMM: naturalSlotMM(l.Grade, l.Class)}
	}
	f.ByHand, f.SpaceMM = f.SlotMM >= leastSawMM, c.spaceMM()
	return f
}

// finest is the layer with the finest grains behind a window.
func (d *drilled) finest(w window) Layer {
	best := d.layers[d.layer[w.cell]]
	for i := down(w.topM); i < w.cell; i++ {
		l := d.layers[d.layer[i]]
		_, hi := grainsMM(l.Grade, l.Class)
		if _, finestHi := grainsMM(best.Grade, best.Class); cmp.Compare(hi, finestHi) < 0 {
			best = l
		}
	}
	return best
}

// Sieve is what a sieve says of the ground behind the screen: grains in mm that 10, 30, 50
// and 60 % of it are finer than.
type Sieve struct{ D10, D30, D50, D60 float64 }

// PackGrain returns the middle grain that a pack should have, by the rule in force.
//
//   - Units: mm.
//   - Domain: grains above 0 and in order; of several layers the finest.
//   - Errors: [geo.Invalid] for grains out of order.
//   - Source: 4-6 times the middle grain (a note on pack design), or 4-6 times the grain
//     that 70 % is coarser than, 6-9 when very uneven (US EPA); uneven beyond d60/d10 = 6,
//     where EN ISO 14688-2 ends "even" (from memory).
//   - Checked by: TestPackGrain.
func (r Rules) PackGrain(s Sieve) (loMM, hiMM float64, err error) {
	if !(0 < s.D10 && s.D10 <= s.D30 && s.D30 <= s.D50 && s.D50 <= s.D60 && s.D60 < math.Inf(1)) {
		return 0, 0, geo.Fail(geo.Invalid, "welldesign.PackGrain", geo.Say("well.input.sieve"), nil)
	}
	rule := r.Pack.Grain.Value()
	grain := s.D50
	if rule.Retained > 0.6 {
		grain = s.D30
	}
	if s.D60/s.D10 > 6 {
		return grain * rule.LoUneven, grain * rule.HiUneven, nil
	}
	return grain * rule.Lo, grain * rule.Hi, nil
}

// NeedsNoPack reports that the ground makes a pack of its own once its fines are washed
// out: d10 above 0.25 mm and uneven, d60/d10 above 3 (Driscoll 1986, from memory).
func NeedsNoPack(s Sieve) bool { return s.D10 > 0.25 && s.D60/s.D10 > 3 }
