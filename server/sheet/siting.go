package sheet

import (
	"strings"
	"time"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// Visit is a siting visit beside a point that is asked about.
type Visit struct {
	Siting geo.Siting
	AwayM  float64               // of the point from the spot that was visited
	Apart  []welldesign.Distance // the distances in force
}

// SitingPage is the page of one siting visit.
type SitingPage struct {
	Lang    string
	Title   string
	Parts   []Table
	History []HistoryLine
	Past    string // heading of the history
}

// NewSiting says a siting visit in a language.
func NewSiting(c *say.Catalogue, l say.Lang, v Visit, history []Deed, zone *time.Location) SitingPage {
	s := speaker{c, l}
	out := SitingPage{Lang: l.String(), Title: s.Say("siting.title"), Past: s.Say("record.history"), History: s.deeds(history, zone)}
	if v.Siting.Place != "" {
		out.Title = s.Say("siting.title-at", say.With("village", say.Text(v.Siting.Place)))
	}
	out.Parts = []Table{s.spot(v.Siting), s.near(v), s.unsettled(v.Siting)}
	return out
}

// spot lists what was written of the spot itself.
func (s speaker) spot(v geo.Siting) Table {
	t := Table{Heading: s.Say("siting.part.spot"), Columns: []string{s.Say("record.what"), s.Say("record.value")}}
	add := func(code, words string) {
		if words != "" {
			t.add(s.Say(code), words)
		}
	}
	t.add(s.Say("bore.position"), s.position(v.Position.Pos))
	t.add(s.Say("entry.siting.on"), s.dateOr(v.On))
	add("entry.siting.access", v.Access)
	if m, ok := v.FloodM.Get(); ok {
		t.add(s.Say("entry.siting.flood"), s.metres(m))
	}
	for _, a := range []struct {
		code, prefix, answer, by string
	}{
		{"entry.siting.consent", "entry.answer.", string(v.Consent), v.ConsentBy},
		{"entry.siting.services", "entry.answer.", string(v.Services), v.ServicesBy},
		{"entry.siting.ordnance", "siting.ordnance.", string(v.Ordnance), v.OrdnanceBy},
	} {
		words := s.Say("entry.not-said")
		if a.answer != "" {
			words = s.Say(a.prefix + a.answer)
		}
		t.add(s.Say(a.code), strings.TrimSuffix(words+", "+a.by, ", "))
	}
	add("entry.siting.remarks", v.Remarks)
	add("record.source.by", v.Source.By)
	return t
}

// near lists what stands near with the distance that the rules ask for. Seen from a point
// beside the spot, a distance is only known to lie within how far the two are apart.
func (s speaker) near(v Visit) Table {
	t := Table{Heading: s.Say("siting.part.near"), Columns: []string{
		s.Say("entry.near.kind"), s.Say("evidence.column.distance"), s.Say("siting.asked"), s.Say("record.verdict"), s.Say("entry.near.words"),
	}}
	if len(v.Siting.Near) == 0 {
		t.Missing = s.Say("siting.nothing-near")
	}
	for _, n := range v.Siting.Near {
		distance, asked, verdict := s.Say("bore.not-written"), "", ""
		away, known := n.DistanceM.Get()
		if known {
			distance = s.distance(away)
		}
		for _, d := range v.Apart {
			if d.From == geo.Code("apart."+string(n.Kind)) {
				asked = s.distance(d.M)
				verdict = s.Say("siting.verdict." + tooNear(away, known, v.AwayM, d.M))
			}
		}
		t.add(s.Say("nearby."+string(n.Kind)), distance, asked, verdict, s.nearWords(n))
	}
	return t
}

// tooNear judges a distance that was measured from a spot some way off.
func tooNear(m float64, known bool, awayM, leastM float64) string {
	switch {
	case !known:
		return "not-known"
	case m+awayM < leastM:
		return "near"
	case m-awayM < leastM:
		return "measure"
	}
	return "far"
}

func (s speaker) nearWords(n geo.Nearby) string {
	var out []string
	if m, ok := n.DepthM.Get(); ok {
		out = append(out, s.Say("siting.deep", say.With("depth", say.Metres(m))))
	}
	if months, ok := n.DryMonths.Get(); ok {
		var names []string
		for _, m := range months.List() {
			names = append(names, s.Say("siting.month", say.With("month", say.Month(m))))
		}
		if len(names) == 0 {
			names = []string{s.Say("siting.never")}
		}
		out = append(out, s.Say("siting.dry", say.With("value", say.Text(strings.Join(names, ", ")))))
	}
	if n.Words != "" {
		out = append(out, n.Words)
	}
	if n.SaidBy != "" {
		out = append(out, s.Say("siting.said-by", say.With("value", say.Text(n.SaidBy))))
	}
	return strings.Join(out, "; ")
}

// unsettled lists what has to be settled before a tool touches the ground.
func (s speaker) unsettled(v geo.Siting) Table {
	t := Table{Heading: s.Say("siting.before")}
	say := func(when bool, code string) {
		if when {
			t.Notes = append(t.Notes, s.Say(code))
		}
	}
	say(v.Ordnance == geo.NotCleared, "siting.stop.ordnance")
	say(v.Ordnance == "", "siting.ask.ordnance")
	say(v.Services == geo.Yes, "siting.stop.services")
	say(v.Services == "", "siting.ask.services")
	say(v.Consent == geo.No, "siting.stop.consent")
	say(v.Consent == "", "siting.ask.consent")
	if m, ok := v.FloodM.Get(); ok && m > 0 {
		t.Notes = append(t.Notes, s.flooded(m))
	}
	if len(t.Notes) == 0 {
		t.Missing = s.Say("siting.settled")
	}
	return t
}

func (s speaker) flooded(m float64) string {
	return s.Say("siting.flood", say.With("depth", say.Metres(m)))
}

// visits tells on the page of an advice what was seen at the spot: what stands too near, and
// what is not settled.
func (s speaker) visits(visits []Visit) []Table {
	var out []Table
	for _, v := range visits {
		near, open := s.near(v), s.unsettled(v.Siting)
		t := Table{Heading: s.Say("siting.seen"), Columns: near.Columns, Rows: near.Rows, Missing: near.Missing}
		t.Notes = append([]string{s.Say("siting.seen.when", say.With("value", say.Text(s.dateOr(v.Siting.On))), say.With("distance", say.Distance(v.AwayM)))}, open.Notes...)
		out = append(out, t)
	}
	return out
}
