package sheet

import (
	"waterstrike/advisor"
	"waterstrike/ui/say"
)

// plan lists the hole and what goes into it, from the top of the work to its end.
func (s speaker) plan(p *advisor.Plan) Table {
	t := Table{
		Heading: s.Say("advice.heading.plan"),
		Columns: []string{s.Say("plan.part"), s.Say("plan.column.depth")},
	}
	if p == nil {
		t.Missing = s.Say("sheet.no-plan")
		return t
	}
	t.add(s.Say("plan.part.hole"), s.Say("value.depth-and-range",
		say.With("depth", say.Metres(p.BottomM.P50)), say.With("level-range", say.MetresRange(p.BottomM.P10, p.BottomM.P90))))
	t.add(s.Say("plan.part.seal"), s.interval(p.SealM[0], p.SealM[1]))
	t.add(s.Say("plan.part.clay"), s.interval(p.ClayM[0], p.ClayM[1]))
	t.add(s.Say("plan.part.pack"), s.interval(p.PackM[0], p.PackM[1]))
	t.add(s.Say("plan.part.screen"), s.interval(p.ScreenM[0], p.ScreenM[1]))
	t.add(s.Say("plan.part.plug"), s.Say("plan.part.plug-length", say.With("length", say.Metres(p.PlugM))))
	t.Notes = append(t.Notes, s.Say("plan.carry", say.With("depth", say.Metres(p.BottomM.P90))))
	t.Notes = append(t.Notes, s.tellAll(p.Rules)...)
	return t
}
