package sheet

import (
	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// Building is the sheet that goes out with the crew: what to load, in which order to work,
// what to keep away from, and what to do with a hole that fails.
type Building struct {
	Lang  string // BCP 47
	Title string
	Asked []string
	Parts []Table // lists are tables of notes alone

	Sources *Table // where each value comes from: for the desk, not for the field; nil without a plan
}

// NewBuilding says what goes with the plan of an advice in a language. Without a plan it
// says that there is none.
func NewBuilding(c *say.Catalogue, l say.Lang, a advisor.Advice) Building {
	s := speaker{c, l}
	out := Building{Lang: l.String(), Title: s.Say("building.title"), Asked: append(s.asked(a.Question), s.verdict(a).Words)}
	if a.Plan == nil {
		out.Parts = []Table{{Heading: s.Say("advice.heading.plan"), Missing: s.Say("sheet.no-plan")}}
		return out
	}
	p, b := a.Plan, a.Plan.Building
	out.Asked = append(out.Asked, s.Say("building.method", say.With("method", methodName(p.Method))))
	out.Parts = []Table{
		s.list("advice.heading.cautions", b.Cautions),
		s.list("building.heading.before", b.Before),
		s.loads(p), s.bring(b), s.asBuilt(p), s.drilling(p), s.timetable(p),
		s.list("building.heading.develop", b.Develop),
		s.list("building.heading.disinfect", b.Disinfect),
		s.apart(b), s.failed(b),
		s.list("building.heading.after", b.After),
	}
	sources := s.sources(b.Sources)
	out.Sources = &sources
	return out
}

// Text lays the sheet out for a terminal.
func (b Building) Text() string {
	var p page
	p.heading(b.Title)
	p.lines(b.Asked)
	for _, t := range b.Parts {
		p.table(t)
	}
	if b.Sources != nil {
		p.table(*b.Sources)
	}
	return p.String()
}

// list is a part that says things.
func (s speaker) list(heading string, messages []geo.Message) Table {
	return Table{Heading: s.Say(heading), Notes: s.tellAll(messages)}
}

// bring lists what goes along besides what the well takes.
func (s speaker) bring(b advisor.Building) Table {
	t := Table{Heading: s.Say("building.heading.bring")}
	for _, code := range b.Bring {
		t.Notes = append(t.Notes, s.Say(string(code)))
	}
	return t
}

// asBuilt is the well with its diameters.
func (s speaker) asBuilt(p *advisor.Plan) Table {
	t := Table{Heading: s.Say("building.heading.well"), Columns: []string{s.Say("plan.part"), s.Say("plan.column.depth")}}
	s.parts(&t, p)
	s.pipes(&t, p.Well)
	t.Notes = append(t.Notes, s.tellAll(p.Well.Notes)...)
	for _, l := range p.Drawn {
		t.Notes = append(t.Notes, s.Say("building.drawn-for", say.With("from", say.Metres(l.TopM)), say.With("to", say.Metres(l.BaseM)), say.With("class", say.Of("class."+l.Class.String()))))
	}
	return t
}

// drilling lists the tools by depth and the rules of work.
func (s speaker) drilling(p *advisor.Plan) Table {
	t := Table{
		Heading: s.Say("building.heading.drill"), Columns: []string{s.Say("plan.column.depth"), s.Say("plan.column.tool")},
		Notes: s.tellAll(p.Rules),
	}
	for _, tool := range p.Tools {
		t.add(s.interval(tool.TopM, tool.BaseM), s.Say("tool."+string(tool.Tool)))
	}
	return t
}

// apart lists the distances in force, and what each source asks for latrines.
func (s speaker) apart(b advisor.Building) Table {
	t := Table{
		Heading: s.Say("building.heading.apart"), Columns: []string{s.Say("building.from"), s.Say("building.distance")},
		Notes: s.tellAll(b.Protection.Notes),
	}
	for _, d := range b.Apart {
		t.add(s.Say(string(d.From)), s.distance(d.M))
	}
	for _, source := range b.Sources {
		if source.Says.Code != "told.well.apart.latrine" {
			continue
		}
		t.Notes = append(t.Notes, s.answers(source.Answers)...)
	}
	return t
}

// answers tells the rule in force, then what other sources ask.
func (s speaker) answers(list []advisor.Answer) []string {
	var inForce, others []string
	for _, a := range list {
		from := []say.Arg{say.With("reason", say.Of(string(a.Says.Code))), say.With("value", say.Text(a.From))}
		if a.InForce {
			inForce = append(inForce, s.Say("building.rule-in-force", from...))
			continue
		}
		others = append(others, s.Say("building.rule-other", from...))
	}
	return append(inForce, others...)
}

// failed tells how a hole that is given up is closed, and what that takes.
func (s speaker) failed(b advisor.Building) Table {
	t := s.list("building.heading.fail", b.Close.Steps)
	t.Columns = []string{s.Say("plan.column.depth"), s.Say("building.fill")}
	for _, f := range b.Close.Fills {
		t.add(s.interval(f.TopM, f.BaseM), s.Say(closingCode(f.Kind)))
	}
	cement, sand := say.With("effective", say.Number(b.Close.CementB, 1)), say.With("total", say.Count(int(b.Close.SandL+0.5)))
	if clay := int(b.Close.ClayL + 0.5); clay > 0 {
		t.Notes = append(t.Notes, s.Say("building.closing", cement, say.With("n", say.Count(clay)), sand))
	} else {
		t.Notes = append(t.Notes, s.Say("building.closing-no-clay", cement, sand))
	}
	return t
}

// closingCode names what fills a hole that is given up.
func closingCode(kind geo.FillKind) string {
	if kind == geo.Backfill {
		return "building.sand-or-cuttings"
	}
	return "part." + string(kind)
}

// sources lists the values with their marks and, where sources differ, every answer.
func (s speaker) sources(list []advisor.Source) Table {
	t := Table{
		Heading: s.Say("building.heading.sources"),
		Columns: []string{s.Say("building.value"), s.Say("building.mark"), s.Say("building.source")},
	}
	for _, source := range list {
		t.add(s.tell(source.Says), s.Say(string(source.Mark)), source.From)
		for _, a := range source.Answers {
			if !a.InForce {
				t.add(s.Say("building.instead", say.With("part", say.Text(s.tell(a.Says)))), s.Say(string(a.Mark)), a.From)
			}
		}
	}
	return t
}
