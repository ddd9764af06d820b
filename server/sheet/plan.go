package sheet

import (
	"slices"

	"waterstrike/advisor"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
	"waterstrike/ui/say"
)

// plan lists the hole and what goes into it from the ground down, and what a crew must
// know before it starts. The rest stands on the building sheet.
func (s speaker) plan(p *advisor.Plan) Table {
	t := Table{
		Heading: s.Say("advice.heading.plan"),
		Columns: []string{s.Say("plan.part"), s.Say("plan.column.depth")},
	}
	if p == nil {
		t.Missing = s.Say("sheet.no-plan")
		return t
	}
	s.parts(&t, p)
	t.Notes = append(t.Notes, s.Say("plan.carry", say.With("depth", say.Metres(rodsM(p)))), s.Say("plan.time",
		say.With("n", say.Count(p.Building.Work.People)), say.With("lo", days(p.Forecast.DaysOut.P50)),
		say.With("hi", days(max(p.Forecast.DaysOut.P80, p.Building.Work.DaysOut)))))
	t.Notes = append(t.Notes, s.tellAll(p.Well.Notes[:min(notesShown, len(p.Well.Notes))])...)
	for _, rule := range p.Rules {
		if slices.Contains(essential(), rule.Code) {
			t.Notes = append(t.Notes, s.tell(rule))
		}
	}
	t.Notes = append(t.Notes, s.Say("plan.backfill"), s.Say("plan.more"))
	return t
}

// rodsM is the drill string that the packing list loads: the page alone must be enough to
// go by.
func rodsM(p *advisor.Plan) float64 {
	for _, l := range p.Forecast.Loads {
		if l.Item == welldesign.Rods {
			return l.Carry
		}
	}
	return max(p.Forecast.BottomM.P80, p.Well.BottomM)
}

// days are written to the tenth below ten and whole above: nobody foretells hours of the
// third week.
func days(n float64) say.Value {
	if n >= 10 {
		return say.Number(n, 0)
	}
	return say.Number(n, 1)
}

// notesShown is how many notes on the well fit on the one page.
const notesShown = 2

// essential are the working rules that no crew may be without.
func essential() []geo.Code {
	return []geo.Code{"plan.casing-rule", "plan.fluid-level", "plan.log-each-metre", "work.stop"}
}

// parts lists hole, fills, screen, plug and intake.
func (s speaker) parts(t *Table, p *advisor.Plan) {
	w := p.Well
	t.add(s.Say("plan.part.hole"), s.Say("value.depth-and-range",
		say.With("depth", say.Metres(w.BottomM)), say.With("level-range", say.MetresRange(p.BottomM.P10, p.BottomM.P90))))
	for _, f := range joined(w.Fills) {
		t.add(s.Say(fillCode(f.Kind, w)), s.interval(f.TopM, f.BaseM))
	}
	t.add(s.Say("plan.part.screen"), s.interval(w.ScreenM[0], w.ScreenM[1]))
	t.add(s.Say("plan.part.plug"), s.Say("plan.part.plug-length", say.With("length", say.Metres(w.BottomM-w.ScreenM[1]))))
	if len(w.Pumps) > 0 {
		t.add(s.Say("plan.part.pump"), s.Say("plan.part.pump-at",
			say.With("item", say.Of("pump."+w.Pumps[0].Code)), say.With("depth", say.Metres(w.IntakeM))))
	}
}

// joined puts fills of one kind together that follow each other.
func joined(fills []geo.Fill) (out []geo.Fill) {
	for _, f := range fills {
		if n := len(out); n > 0 && out[n-1].Kind == f.Kind && out[n-1].BaseM == f.TopM {
			out[n-1].BaseM = f.BaseM
			continue
		}
		out = append(out, f)
	}
	return out
}

// fillCode names what fills the space around the pipe. Clayey cuttings come out of clay
// alone.
func fillCode(kind geo.FillKind, w welldesign.Well) string {
	switch kind {
	case geo.Grout:
		return "plan.part.seal"
	case geo.ClaySeal:
		return "plan.part.clay"
	case geo.Pack:
		return "plan.part.pack"
	}
	if slices.ContainsFunc(w.Tools, func(t welldesign.ToolRange) bool { return t.Class == soil.Clay }) {
		return "plan.part.backfill"
	}
	return "plan.part.cuttings"
}

// cased reports a hole that is bailed inside temporary casing.
func cased(w welldesign.Well) bool {
	return slices.ContainsFunc(w.Tools, func(t welldesign.ToolRange) bool { return t.Tool == "bailer" })
}

// pipes lists hole, pipe, slots and pack in millimetres, and the pumps that suit the well.
func (s speaker) pipes(t *Table, w welldesign.Well) {
	mm := func(v float64) say.Value { return say.Count(int(v + 0.5)) }
	hole := "building.hole-mm"
	if cased(w) {
		hole = "building.hole-cased-mm"
	}
	t.add(s.Say("building.hole"), s.Say(hole, say.With("n", mm(w.Casing.HoleMM))))
	t.add(s.Say("building.pipe"), s.Say("building.pipe-mm", say.With("n", mm(w.Casing.OutsideMM)), say.With("total", mm(w.Casing.InsideMM))))
	slots := say.With("amount", say.Number(w.Filter.SlotMM, 1))
	if w.Slots.Cuts > 0 {
		t.add(s.Say("building.slots"), s.Say("building.slots-cut", slots, say.With("n", say.Count(w.Slots.Cuts)), say.With("total", mm(w.Slots.EveryMM))))
	} else {
		t.add(s.Say("building.slots"), s.Say("building.slots-bought", slots))
	}
	if w.Filter.Kind == welldesign.PlacedPack {
		t.Notes = append(t.Notes, s.Say("filter.placed", say.With("amount", say.Number(w.Filter.LoMM, 1)), say.With("amount-to", say.Number(w.Filter.HiMM, 1))))
	} else {
		t.Notes = append(t.Notes, s.Say("filter.natural"))
	}
	for _, p := range w.Pumps {
		t.Notes = append(t.Notes, s.Say("building.pump", say.With("item", say.Of("pump."+p.Code)),
			say.With("length", say.Metres(p.LiftM)), say.With("effective", say.Number(p.SteadyLMin, 0)), say.With("n", say.Count(p.People))))
	}
}
