package sheet

import (
	"encoding/json"
	"strings"

	"waterstrike/advisor"
	"waterstrike/advisor/livehole"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// Hole is the answer beside an open hole in one language.
type Hole struct {
	Title  string
	Advice Lines
	Ahead  Lines
	Tables []Table
}

// NewHole says an answer.
func NewHole(c *say.Catalogue, l say.Lang, p livehole.Pack, log livehole.Log, a livehole.Answer) Hole {
	s := holeSpeaker{speaker{c, l}, p}
	out := Hole{Title: s.Say("hole.page.title") + ": " + s.metres(a.DepthM)}
	out.Advice = Lines{Heading: s.Say(string(a.Advice.Code))}
	if a.Advice.Code == livehole.Change {
		out.Advice.Heading += ": " + s.method(a.Advice.Method)
	}
	for _, r := range a.Advice.Because {
		out.Advice.Lines = append(out.Advice.Lines, s.reason(r))
	}
	out.Ahead = Lines{Heading: s.Say("hole.page.water-heading"), Lines: s.water(a.Water)}
	for _, m := range a.Methods {
		if m.Method == log.Method {
			out.Tables = append(out.Tables, s.more(m))
		}
	}
	out.Tables = append(out.Tables, s.byMethod(a.Methods))
	return out
}

// Text lays the answer out for a terminal.
func (h Hole) Text() string {
	var p page
	p.heading(h.Title)
	p.section(h.Advice)
	p.section(h.Ahead)
	for _, t := range h.Tables {
		p.table(t)
	}
	return p.String()
}

// JSONAtHole writes an advice as [JSON] does, with the answer beside the hole as its last
// field, "hole": its fields stand in advisor/livehole/fields.md.
func JSONAtHole(a advisor.Advice, hole livehole.Answer) ([]byte, error) {
	out, err := json.MarshalIndent(struct {
		advisor.Advice
		Hole livehole.Answer `json:"hole"`
	}{a, hole}, "", "  ")
	return append(out, '\n'), err
}

type holeSpeaker struct {
	speaker
	pack livehole.Pack
}

func (s holeSpeaker) method(code geo.Method) string { return s.Say("method." + string(code)) }

// amount writes money, or hours of work, to whole units.
func (s holeSpeaker) amount(x float64) string {
	unit := s.pack.Costs.Unit
	if unit == "person-hours" {
		unit = s.Say("hole.unit.person-hours")
	}
	return s.Say("value.number", say.With("effective", say.Number(x, 0))) + " " + unit
}

func (s holeSpeaker) reason(r livehole.Reason) string {
	words := s.Say(string(r.Code))
	switch r.Code {
	case "hole.because.refused":
		return words
	case "hole.because.gain", "hole.because.here", "hole.because.next", "hole.because.over":
		return words + ": " + s.amount(r.Value)
	}
	return words + ": " + s.chance(r.Value)
}

func (s holeSpeaker) water(w livehole.Water) []string {
	var out []string
	if at, ok := w.P50M.Get(); ok && !w.Met {
		out = append(out, s.Say("hole.page.water")+": "+s.metres(at))
	}
	return append(out, s.Say("hole.page.rest")+": "+strings.Join([]string{s.metres(w.RestM[0]), s.metres(w.RestM[1]), s.metres(w.RestM[2])}, " … "))
}

func (s holeSpeaker) more(m livehole.Outlook) Table {
	t := Table{Heading: s.Say("hole.page.if-on"), Columns: []string{
		s.Say("hole.page.metres"), s.Say("hole.page.success"), s.Say("hole.page.cost"), s.Say("hole.page.gain"),
	}}
	for _, x := range m.More {
		t.add(s.metres(x.Metres), s.chance(x.Chance), s.amount(x.Cost), s.amount(x.Gain))
	}
	t.Notes = []string{s.Say("hole.page.plan-to") + ": " + s.metres(m.StopAtM)}
	return t
}

func (s holeSpeaker) byMethod(methods []livehole.Outlook) Table {
	t := Table{Heading: s.Say("hole.page.by-method"), Columns: []string{s.Say("hole.page.method"), s.Say("hole.page.success"), s.Say("hole.page.gain")}}
	for _, m := range methods {
		t.add(s.method(m.Method), s.chance(m.Chance), s.amount(m.Gain))
	}
	return t
}
