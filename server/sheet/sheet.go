package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// New says an advice in a language.
func New(c *say.Catalogue, l say.Lang, a advisor.Advice) Sheet {
	s := speaker{c, l}
	return Sheet{
		Lang:     l.String(),
		Title:    s.Say("advice.title"),
		Asked:    s.asked(a.Question),
		Verdict:  s.verdict(a),
		Chance:   s.chances(a),
		Water:    s.water(a.Water),
		Layers:   s.layers(a),
		Plan:     s.plan(a.Plan),
		Reasons:  s.reasons(a),
		Quality:  Lines{s.Say("advice.heading.quality"), append([]string{s.Say(string(a.Quality.Verdict))}, s.tellAll(a.Quality.Because)...)},
		Cautions: Lines{s.Say("advice.heading.cautions"), s.tellAll(a.Cautions)},
		Evidence: s.evidence(a),
		Source:   Lines{s.Say("advice.heading.source"), s.source(a)},
	}
}

func (s speaker) asked(q advisor.Question) []string {
	out := []string{s.Say("advice.asked-at", say.With("place", say.Position(q.At.Lat, q.At.Lon)))}
	if q.Village != "" {
		out = append(out, s.Say("advice.asked-at-village", say.With("village", say.Text(q.Village))))
	}
	return out
}

var marks = map[geo.Code]string{
	advisor.Go: "go", advisor.WithCare: "care", advisor.Avoid: "avoid", advisor.NotEnough: "unsure",
}

func (s speaker) verdict(a advisor.Advice) Verdict {
	v := Verdict{Mark: marks[a.Verdict.Code], Words: s.Say(string(a.Verdict.Code))}
	if v.Mark == "" {
		v.Mark = "avoid" // a verdict this room does not know is never shown as a go-ahead
	}
	for _, m := range a.Methods {
		if m.Method == a.Verdict.Method && a.Verdict.Code != advisor.NotEnough {
			v.Chance = s.chanceLine(m)
		}
	}
	v.Details = append(v.Details, s.detail(a.Verdict))
	v.Details = append(v.Details, s.tellAll(a.Verdict.Because)...)
	return v
}

// detail says what a verdict means; where its sentence names a method it gets one.
func (s speaker) detail(v advisor.Verdict) string {
	code := string(v.Code) + ".detail"
	if len(s.catalogue.Parameters(code)) == 0 {
		return s.Say(code)
	}
	return s.Say(code, say.With("method", methodName(v.Method)))
}

func (s speaker) chanceLine(m advisor.MethodChance) string {
	return s.Say("chance.line", say.With("method", methodName(m.Method)),
		say.With("chance", say.Chance(m.Chance)), say.With("chance-range", say.ChanceRange(m.Lo, m.Hi)))
}

func methodName(m geo.Method) say.Value { return say.Of("method." + string(m)) }

func (s speaker) chances(a advisor.Advice) Chances {
	methods := a.Methods
	out := Chances{
		Heading: s.Say("advice.heading.chance"),
		Columns: []string{s.Say("chance.column.method"), s.Say("chance.column.chance"), s.Say("chance.column.range")},
	}
	if len(methods) == 0 {
		out.Missing = s.Say("sheet.no-chance")
		return out
	}
	for _, m := range methods {
		out.Rows = append(out.Rows, ChanceRow{
			Method: s.Say("method." + string(m.Method)),
			Chance: s.chance(m.Chance),
			Range:  s.Say("value.chance-range", say.With("chance-range", say.ChanceRange(m.Lo, m.Hi))),
			Lo:     percent(m.Lo), Mid: percent(m.Chance), Hi: percent(m.Hi),
		})
	}
	out.Note = s.Say("sheet.bar")
	out.Months = s.months(a)
	out.Crew = s.crew(a.Execution)
	return out
}

// hardlyLost is a share of holes that are kept above which nothing is said of the others.
const hardlyLost = 0.98

// crew tells what is lost to the work, which the chances of the ground do not count.
func (s speaker) crew(e *advisor.Execution) string {
	if e == nil || e.Kept.P50 > hardlyLost {
		return ""
	}
	kept := say.With("chance", say.Chance(e.Kept.P50))
	if e.Holes == 0 {
		return s.Say("chance.crew-unknown", say.With("method", methodName(e.Method)), kept)
	}
	return s.Say("chance.crew", say.With("method", methodName(e.Method)), say.With("n", say.Count(e.Lost)), say.With("total", say.Count(e.Holes)), kept)
}

// months tells what the month of drilling does to the method of the verdict.
func (s speaker) months(a advisor.Advice) string {
	if len(a.Months) == 0 || a.Water == nil || !a.Water.SeasonIdentified {
		return "" // no month is known to be the low one
	}
	by := func(x, y advisor.MonthChance) int { return cmp.Compare(x.Chance, y.Chance) }
	best, worst := slices.MaxFunc(a.Months, by), slices.MinFunc(a.Months, by)
	method := say.With("method", methodName(a.Verdict.Method))
	if best.Chance-worst.Chance < leastShare {
		return s.Say("chance.months-alike", method)
	}
	in := func(code string, m advisor.MonthChance) string {
		return s.Say(code, method, say.With("month", say.Month(m.Month)), say.With("chance", say.Chance(m.Chance)))
	}
	return in("chance.month-best", best) + " " + in("chance.month-worst", worst)
}

func percent(p float64) float64 { return float64(int(1000*p+0.5)) / 10 }

func (s speaker) source(a advisor.Advice) []string {
	p := a.Provenance
	version := p.Version
	if version == "" {
		version = "-"
	}
	return []string{
		s.Say("sheet.source", say.With("n", say.Count(p.Bores)), say.With("snapshot", say.Text(p.Snapshot)),
			say.With("program", say.Text(version)), say.With("seed", say.Text(strconv.FormatUint(a.Question.Seed, 10)))),
		strings.Join([]string{s.Say("provenance.units"), s.Say("provenance.range")}, " "),
	}
}
