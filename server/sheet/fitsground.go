package sheet

import (
	"math"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// groundFit lists how open each material is that records speak of, and how they were read.
func (s speaker) groundFit(r hydraulics.Report) Table {
	t := Table{Heading: s.Say("fit.ground"), Columns: []string{
		s.Say("fit.column.material"), s.Say("fit.column.records"), s.Say("fit.column.conductivity"), s.Say("fit.column.most-layers"),
	}}
	for _, m := range r.Materials {
		t.add(s.layerClass(geo.Layer{Class: m.Class, Grade: m.Grade, Clayey: m.Clayey}), s.count(m.Records), s.twoDigits(m.MPerDay),
			s.Say("fit.ground.from-to", say.With("lo", say.Number(m.Lo, decimalsOf(m.Lo))), say.With("hi", say.Number(m.Hi, decimalsOf(m.Hi)))))
	}
	if len(r.Materials) == 0 {
		t.Missing = s.Say("fit.ground.none")
		return t
	}
	t.Notes = []string{s.Say("fit.ground.meaning")}
	if r.Yields > 0 {
		t.Notes = append(t.Notes, s.Say("fit.ground.limit", say.With("n", say.Count(r.Yields)), say.With("share", say.Share(r.AtLimit))))
	}
	if out := r.Mixed + r.AtOdds; out > 0 {
		t.Notes = append(t.Notes, s.Say("fit.ground.left-out", say.With("n", say.Count(out)), say.With("total", say.Count(r.AtOdds))))
	}
	return t
}

// twoDigits writes a number with two digits that count.
func (s speaker) twoDigits(v float64) string { return s.number(v, decimalsOf(v)) }

// decimalsOf is how many decimals show two digits of a number above 0.
func decimalsOf(v float64) int { return min(max(1-int(math.Floor(math.Log10(v))), 0), 6) }
