package welldesign

import (
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// notes tells what to mind of this very well: where it falls short of what is best, and
// what the water may do.
func (d *drilled) notes(w Well) []geo.Message {
	var out []geo.Message
	add := func(when bool, code geo.Code, args ...geo.Arg) {
		if when {
			out = append(out, geo.Say(code, args...))
		}
	}
	y, pack := d.Rules.Yield, d.Rules.Pack
	wet := d.site.Water.WetHighM
	add(wet <= 0, "well.note.water-at-ground")
	add(wet > 0 && wet < 1, "well.note.wet-ground", metres("level", wet))
	add(d.site.Water.NormalLowM < 0, "well.note.flows")
	comesIn, rises := metres("depth", d.topOf(down(w.ScreenM[1])-1)), d.site.Water.NormalLowM
	add(d.confined(w) && rises >= 0, "well.note.confined", metres("level", rises), comesIn)
	add(d.confined(w) && rises < 0, "well.note.confined-flows", comesIn)
	add(d.wetReachM() < w.BottomM-cellM, "well.note.dry-season-only", metres("depth", d.wetReachM()))
	add(tenth(w.PumpingM) > tenth(w.ScreenM[0]), "well.note.pumped-into-screen", metres("level", w.PumpingM), metres("from", w.ScreenM[0]))
	atFoot := w.IntakeM > w.ScreenM[0]
	add(atFoot && w.BottomM-w.ScreenM[1] < d.Rules.Screen.SumpLong.Value-slackM, "well.note.intake-at-slots", metres("depth", w.IntakeM))
	add(!atFoot && w.IntakeM-w.PumpingM < y.CoverBest.Value-slackM, "well.note.little-cover", metres("length", w.IntakeM-w.PumpingM))
	add(w.Chance < likely, "well.note.yield-unlikely", geo.With("chance", geo.Chance(w.Chance)))
	add(w.Chance >= likely && w.Chance < surely, "well.note.yield-unsure", geo.With("chance", geo.Chance(w.Chance)))
	add(w.Casing.HoleMM > d.Method.HoleMM+slackM, "well.note.wider-hole", geo.With("n", geo.Count(int(w.Casing.HoleMM+0.5))))
	add(w.Casing.Natural, "well.note.natural-pack", metres("depth", w.WidenM))
	add(!w.Casing.Natural && w.Casing.spaceMM() < pack.Thickness.Value()-slackM, "well.note.thin-pack",
		geo.With("n", geo.Count(int(w.Casing.spaceMM()+0.5))), geo.With("total", geo.Count(int(pack.Thickness.Value()+0.5))))
	add(onlySuction(w), "well.note.only-suction", geo.With("n", geo.Count(serves(w.Pumps))))
	add(!w.Filter.ByHand, "well.note.factory-slots", geo.With("amount", geo.Number(w.Filter.SlotMM)))
	add(w.Slots.TooFast, "well.note.entrance-fast")
	add(d.unstatedSand(w), "well.note.sand-not-graded")
	add(d.unknownAbove(w.BottomM), "well.note.undescribed")
	return out
}

// wetReachM is how deep the method gets at the end of the rains, when water stands highest.
func (d *drilled) wetReachM() float64 {
	return tenth(d.Method.Reach(d.classes, cellM, d.strikeM(d.site.Water.WetHighM)).DepthM)
}

// onlySuction reports a well that no other class of pump fits.
func onlySuction(w Well) bool { return len(w.Pumps) == 1 && w.Pumps[0].Code == "suction" }

// confined reports that tight ground over the screened body holds its water down.
func (d *drilled) confined(w Well) bool {
	cell := down(w.ScreenM[1]) - 1
	return d.topOf(cell) > d.site.Water.NormalLowM+cellM
}

// unstatedSand reports sand behind the screen whose grade nobody wrote.
func (d *drilled) unstatedSand(w Well) bool {
	for i := down(w.ScreenM[0]); i < down(w.ScreenM[1]); i++ {
		if l := d.layers[d.layer[i]]; l.Class == soil.Sand && l.Grade == soil.GradeUnknown {
			return true
		}
	}
	return false
}

// unknownAbove reports ground down to a depth that nobody described.
func (d *drilled) unknownAbove(m float64) bool {
	for i := range min(down(m), len(d.classes)) {
		if d.classes[i] == soil.Unknown {
			return true
		}
	}
	return false
}
