package sheet

import (
	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// listed is how many bores a page names; all of them are in the JSON.
const listed = 6

func (s speaker) evidence(a advisor.Advice) Table {
	t := Table{Heading: s.Say("advice.heading.evidence"), Columns: []string{
		s.Say("evidence.column.bore"), s.Say("evidence.column.distance"), s.Say("evidence.column.outcome"), s.Say("evidence.column.hole"),
		s.Say("sheet.evidence.level"), s.Say("sheet.drilled"), s.Say("evidence.column.weight"),
	}}
	e := a.Evidence
	if len(e.Bores) == 0 {
		t.Missing = s.Say("sheet.no-evidence")
	}
	for _, b := range e.Bores[:min(listed, len(e.Bores))] {
		t.add(b.Label, s.distance(b.DistanceM), s.outcomeOf(b), s.holeOf(b),
			s.levelOf(b), s.dateOf(b), s.share(b.Weight))
		t.link("/bores/" + string(b.ID))
	}
	t.Notes = s.evidenceNotes(e)
	return t
}

// outcomeOf names the method of a hole that ground stopped: another may get through.
func (s speaker) outcomeOf(b advisor.EvidenceBore) string {
	outcome := s.Say("outcome." + string(b.Outcome))
	if b.Method == "" || b.Outcome != geo.Refused && b.Outcome != geo.Collapsed {
		return outcome
	}
	return s.Say("evidence.outcome-by", say.With("value", say.Text(outcome)), say.With("method", methodName(b.Method)))
}

// holeOf is how deep a bore went: one that failed at three metres tells little against one of
// twelve.
func (s speaker) holeOf(b advisor.EvidenceBore) string {
	if depth, ok := b.DepthM.Get(); ok {
		return s.metres(depth)
	}
	return s.Say("sheet.not-read")
}

func (s speaker) levelOf(b advisor.EvidenceBore) string {
	if m, ok := b.LevelM.Get(); ok {
		return s.metres(m)
	}
	if b.Flows {
		return s.Say("sheet.flows")
	}
	return s.Say("sheet.not-read")
}

func (s speaker) dateOf(b advisor.EvidenceBore) string {
	if d, ok := b.Completed.Get(); ok && d.Year != 0 {
		return s.date(geo.Date{Year: d.Year}) // how old it is; the record has the day
	}
	return s.Say("sheet.undated")
}

func (s speaker) evidenceNotes(e advisor.Evidence) []string {
	var out []string
	if n := len(e.Bores); n > listed {
		out = append(out, s.Say("sheet.evidence.listed", say.With("listed", say.Count(listed)), say.With("total", say.Count(n))))
	}
	if left := unlisted(e.Bores); len(e.Bores) > 0 && left > 0 {
		out = append(out, s.Say("evidence.others", say.With("share", say.Share(left))))
	}
	if len(e.Bores) > 0 {
		out = append(out, s.Say("sheet.evidence.effective", say.With("n", say.Count(e.ForLayers)), say.With("total", say.Count(e.ForWater))))
	}
	if m, ok := e.NearestM.Get(); ok {
		out = append(out, s.Say("sheet.evidence.nearest", say.With("distance", say.Distance(m))))
	}
	if r := e.Regional; r.Believable() {
		out = append(out, s.Say("evidence.regional-rate", say.With("n", say.Count(r.Known)), say.With("total", say.Count(r.Bores)),
			say.With("share", say.Share(float64(r.Producing)/float64(r.Known)))))
	}
	out = append(out, s.tellAll(e.Doubts)...)
	return append(out, s.Say("sheet.evidence.base", say.With("n", say.Count(e.Logs)), say.With("total", say.Count(e.Levels))))
}

// unlisted is the weight of all that a page does not name.
func unlisted(bores []advisor.EvidenceBore) float64 {
	left := 1.0
	for _, b := range bores[:min(listed, len(bores))] {
		left -= b.Weight
	}
	return max(left, 0)
}
