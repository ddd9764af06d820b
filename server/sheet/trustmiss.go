package sheet

import (
	"strings"

	"waterstrike/advisor"
	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// missTables lists the worst misses of each kind with the bores that misled.
func (s speaker) missTables(misses []trust.Miss) []Table {
	var out []Table
	for _, kind := range []geo.Code{"miss.level", "miss.layers", "miss.outcome"} {
		t := Table{Heading: s.Say(string(kind)), Columns: s.missColumns(kind)}
		for _, m := range misses {
			if m.Kind == kind {
				t.add(s.missRow(m)...)
			}
		}
		if len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	if len(out) > 0 {
		out[len(out)-1].Notes = []string{s.Say("miss.read")}
	}
	return out
}

func (s speaker) missColumns(kind geo.Code) []string {
	bore, misled := s.Say("evidence.column.bore"), s.Say("trust.column.misled")
	if kind == "miss.layers" {
		return []string{bore, s.Say("trust.column.off"), misled}
	}
	return []string{bore, s.Say("trust.column.found"), s.Say("trust.column.told"), misled}
}

func (s speaker) missRow(m trust.Miss) []string {
	bore, misled := labelled(m.ID, m.Label), s.misled(m)
	switch m.Kind {
	case "miss.level":
		said := m.SaidM.Or(advisor.Range{})
		return []string{bore, s.metres(m.FoundM.Or(0)), s.Say("value.depth-and-range", say.With("depth", say.Metres(said.P50)),
			say.With("level-range", say.MetresRange(said.P10, said.P90))), misled}
	case "miss.outcome":
		return []string{bore, s.cameOf(m), s.chance(clamp(m.Chance.Or(0))), misled}
	}
	return []string{bore, s.number(m.Loss, 2), misled}
}

func (s speaker) cameOf(m trust.Miss) string {
	outcome := "miss.failed"
	if m.Works.Or(false) {
		outcome = "miss.worked"
	}
	return s.Say("miss.by-method", say.With("outcome", say.Of(outcome)), say.With("method", methodName(m.Method)))
}

// misled names the heaviest bores, each with what it said of the matter.
func (s speaker) misled(m trust.Miss) string {
	if len(m.Evidence) == 0 {
		return s.Say("miss.nobody")
	}
	words := make([]string, len(m.Evidence))
	for i, b := range m.Evidence {
		words[i] = s.misledBy(m.Kind, b)
	}
	return strings.Join(words, "; ")
}

func (s speaker) misledBy(kind geo.Code, b advisor.EvidenceBore) string {
	bore, distance := say.With("bore", say.Text(labelled(b.ID, b.Label))), say.With("distance", say.Distance(b.DistanceM))
	if level, ok := b.LevelM.Get(); ok && kind == "miss.level" {
		return s.Say("miss.misled-level", bore, distance, say.With("level", say.Metres(level)))
	}
	if kind == "miss.outcome" {
		return s.Say("miss.misled-outcome", bore, distance, say.With("outcome", say.Of("outcome."+string(b.Outcome))))
	}
	return s.Say("miss.misled", bore, distance)
}

// labelled shortens the label of a bore that has no name: the first letters of its id find
// it again.
func labelled(id geo.BoreID, label string) string {
	const shown = 8
	if label == string(id) && len(label) > shown {
		return label[:shown] + "…"
	}
	return label
}
