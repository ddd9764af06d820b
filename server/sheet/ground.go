package sheet

import (
	"waterstrike/advisor"
	"waterstrike/geo/soil"
	"waterstrike/ui/say"
)

// water lists the three levels, the one that the well is built for in the middle.
func (s speaker) water(w *advisor.Water) Table {
	t := Table{
		Heading: s.Say("advice.heading.water"),
		Columns: []string{s.Say("sheet.level"), s.Say("sheet.level.middle"), s.Say("chance.column.range")},
	}
	if w == nil {
		t.Missing = s.Say("sheet.no-water")
		return t
	}
	for _, l := range levels(w) {
		t.add(s.Say("sheet.level."+l.key), s.metres(l.depth.P50), s.interval(l.depth.P10, l.depth.P90))
	}
	if w.WetHigh.P10 <= 0 {
		t.Notes = append(t.Notes, s.Say("water.above-ground"))
	}
	season := s.Say("water.season-not-known", say.With("length", say.Metres(w.SeasonRangeM)))
	if w.SeasonIdentified {
		season = s.Say("water.season-known")
	}
	t.Notes = append(t.Notes, season)
	if w.Readings > 0 {
		t.Notes = append(t.Notes, s.Say("sheet.evidence.readings",
			say.With("n", say.Count(w.Readings)), say.With("distance", say.Distance(w.NearestM))))
	}
	return t
}

type namedLevel struct {
	key   string
	depth advisor.Range
}

func levels(w *advisor.Water) []namedLevel {
	return []namedLevel{{"wet-high", w.WetHigh}, {"dry-low", w.NormalLow}, {"low-in-ten", w.DesignLow}}
}

// layers lists the most likely sequence, cut where the tool changes.
func (s speaker) layers(a advisor.Advice) Table {
	t := Table{
		Heading: s.Say("advice.heading.layers"),
		Columns: []string{
			s.Say("layers.column.depth"), s.Say("layers.column.class"),
			s.Say("layers.column.chance"), s.Say("plan.column.tool"),
		},
	}
	switch {
	case len(a.Layers) == 0:
		t.Missing = s.Say("sheet.no-layers")
		return t
	case a.Plan == nil:
		t.Columns = t.Columns[:3]
	}
	for _, l := range a.Layers {
		if a.Plan != nil && l.TopM >= a.Plan.BottomM.P90 {
			break // no crew gets there; the JSON has all
		}
		for _, cut := range cuts(l, a.Plan) {
			row := []string{s.interval(cut[0], cut[1]), s.expected(l), s.chance(l.Chance)}
			if a.Plan != nil {
				row = append(row, s.toolAt(a.Plan, (cut[0]+cut[1])/2))
			}
			t.add(row...)
		}
	}
	return t
}

// cuts splits a layer where the plan changes tools.
func cuts(l advisor.Layer, plan *advisor.Plan) [][2]float64 {
	var out [][2]float64
	top := l.TopM
	if plan != nil {
		for _, tool := range plan.Tools {
			if top < tool.BaseM && tool.BaseM < l.BaseM {
				out = append(out, [2]float64{top, tool.BaseM})
				top = tool.BaseM
			}
		}
	}
	return append(out, [2]float64{top, l.BaseM})
}

// worthTelling is the chance from which the next likely layer is named too.
const worthTelling = 0.2

// expected names the most likely class, and the next one where it is likely enough to
// matter.
func (s speaker) expected(l advisor.Layer) string {
	if l.SecondChance < worthTelling || l.Second == soil.Unknown {
		return s.class(l.Class)
	}
	return s.Say("sheet.layer.or", say.With("class", say.Of("class."+l.Class.String())),
		say.With("second", say.Of("class."+l.Second.String())), say.With("chance", say.Chance(l.SecondChance)))
}

func (s speaker) class(c soil.Class) string { return s.Say("class." + c.String()) }

func (s speaker) toolAt(plan *advisor.Plan, depthM float64) string {
	for _, t := range plan.Tools {
		if t.TopM <= depthM && depthM < t.BaseM {
			return s.Say("tool." + string(t.Tool))
		}
	}
	return s.Say("sheet.no-tool")
}

// leastShare is the least share that a page lists: what rounds to nothing only hides what
// matters. All of them are in the JSON.
const leastShare = 0.01

// reasons lists what fails first with the method of the verdict, or with the best one.
func (s speaker) reasons(a advisor.Advice) Table {
	t := Table{Heading: s.Say("advice.heading.reasons")}
	if len(a.Methods) == 0 {
		t.Missing = s.Say("sheet.no-chance")
		return t
	}
	best := a.Methods[0]
	for _, m := range a.Methods {
		if m.Method == a.Verdict.Method {
			best = m
		}
	}
	method := s.Say("sheet.reasons-of", say.With("method", methodName(best.Method)))
	t.Columns = []string{method, s.Say("chance.column.chance")}
	for _, r := range best.Reasons {
		if r.Share >= leastShare {
			t.add(s.Say(string(r.Code)), s.chance(r.Share))
		}
	}
	t.Notes = []string{s.Say("reasons.add-up")}
	if len(t.Rows) == 0 {
		t.Columns, t.Notes = nil, []string{s.Say("reasons.all-small")}
	}
	return t
}
