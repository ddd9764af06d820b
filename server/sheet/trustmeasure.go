package sheet

import (
	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// measure lists everybody's score of one kind under a heading.
func (s speaker) measure(m trust.Measure) Table {
	t := Table{Heading: s.Say(string(m.Code)), Columns: []string{
		s.Say("trust.column.who"), s.Say("trust.column.score"), s.Say("trust.column.worse"), s.Say("trust.column.so"),
	}}
	digits := digitsOf(m.Code)
	for _, st := range m.Standings {
		t.add(s.Say(string(st.Who)), s.number(st.Score, digits), s.worse(st, digits), s.judged(st))
	}
	t.Notes = s.measureNotes(m)
	return t
}

func (s speaker) measureNotes(m trust.Measure) []string {
	out := []string{s.Say(string(m.Code) + ".meaning")}
	if m.TooFew {
		out = append(out, s.few(m))
	}
	return out
}

// digitsOf is how many decimals a score is worth: a centimetre, or a thousandth of a
// Brier score.
func digitsOf(code geo.Code) int {
	switch code {
	case "score.crps", "score.mae", "score.rmse":
		return 2
	}
	return scoreDigits
}

const scoreDigits = 3

func (s speaker) number(v float64, decimals int) string {
	return s.Say("value.number", say.With("effective", say.Number(v, decimals)))
}

// worse writes by how much somebody was worse than the advisor; empty where that is not
// known.
func (s speaker) worse(st trust.Standing, digits int) string {
	d, ok := st.Worse.Get()
	if !ok {
		return ""
	}
	return s.Say("trust.difference", say.With("effective", say.Number(d.Mid, digits)),
		say.With("spread", say.NumberRange(d.Lo, d.Hi, digits)))
}

// judged says what the interval of a difference allows to be said.
func (s speaker) judged(st trust.Standing) string {
	d, ok := st.Worse.Get()
	switch {
	case !ok:
		return ""
	case d.Lo > 0:
		return s.Say("trust.worse")
	case d.Hi < 0:
		return s.Say("trust.better")
	}
	return s.Say("trust.alike")
}

func (s speaker) between(i trust.Interval) string {
	return s.percents(clamp(i.Lo), clamp(i.Hi))
}

// clamp keeps an end of an interval that rounding moved within a probability.
func clamp(p float64) float64 { return min(max(p, 0), 1) }
