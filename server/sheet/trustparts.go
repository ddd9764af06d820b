package sheet

import (
	"waterstrike/advisor"
	"waterstrike/advisor/trust"
	"waterstrike/ui/say"
)

// levelTables says how the stated depths stood.
func (s speaker) levelTables(r trust.Report) []Table {
	a := r.Account.Level
	if a == nil {
		return []Table{{Heading: s.Say("score.crps"), Missing: s.Say("trust.nothing.level"), Notes: s.dryHoles(r.DryHoles)}}
	}
	ranges := s.ranges(a)
	ranges.Notes = append(ranges.Notes, s.dryHoles(r.DryHoles)...)
	out := []Table{ranges}
	for _, m := range a.Measures {
		out = append(out, s.measure(m))
	}
	return out
}

// ranges lists how often each stated range held what was found.
func (s speaker) ranges(a *trust.LevelAccount) Table {
	t := Table{Heading: s.Say("trust.ranges"), Columns: []string{
		s.Say("trust.column.range"), s.Say("trust.column.held"), s.Say("trust.column.interval"), s.Say("trust.column.so"),
	}}
	for _, c := range a.Coverage {
		interval, so := "", ""
		if i, ok := c.Range.Get(); ok {
			interval, so = s.between(i), s.Say(heldCode(c.Said, i))
		}
		t.add(s.share(c.Said), s.share(c.Held), interval, so)
	}
	code := "trust.middle-deep"
	if a.MedianM < 0 {
		code = "trust.middle-shallow"
	}
	t.Notes = []string{s.Say(code, say.With("length", say.Metres(max(a.MedianM, -a.MedianM))), say.With("depth", say.Metres(a.FoundM)))}
	return t
}

// heldCode says whether ranges are as wide as they should be, as far as luck allows.
func heldCode(said float64, held trust.Interval) string {
	switch {
	case held.Hi < said:
		return "trust.too-narrow"
	case held.Lo > said:
		return "trust.too-wide"
	}
	return "trust.holds"
}

func (s speaker) dryHoles(d trust.DryHoles) []string {
	if d.Count == 0 {
		return nil
	}
	return []string{s.Say("trust.dry", say.With("n", say.Count(d.Count)), say.With("chance", say.Chance(clamp(d.Below))))}
}

// layerTables says how the stated layers stood: at all depths, then by bands.
func (s speaker) layerTables(a *trust.LayersAccount) []Table {
	if a == nil {
		return []Table{{Heading: s.Say("score.log"), Missing: s.Say("trust.nothing.layers")}}
	}
	var out []Table
	for i, b := range a.Bands {
		t := s.band(b)
		if i == 0 {
			t.Heading = s.Say("trust.layers.all", say.With("n", say.Count(b.Cells)), say.With("total", say.Count(a.Logs)))
			t.Notes = append([]string{s.Say("score.log.meaning")}, t.Notes...)
		}
		out = append(out, t)
	}
	return out
}

func (s speaker) band(b trust.BandAccount) Table {
	t := Table{
		Heading: s.Say("trust.layers.band", say.With("depth", say.MetresRange(b.TopM, b.BaseM)), say.With("n", say.Count(b.Cells))),
		Columns: []string{
			s.Say("trust.column.who"), s.Say("trust.column.score"), s.Say("trust.column.worse"),
			s.Say("trust.column.so"), s.Say("trust.column.wrong"),
		},
	}
	if b.Cells == 0 {
		t.Missing = s.Say("trust.layers.none")
		return t
	}
	for _, st := range b.Log.Standings {
		t.add(s.Say(string(st.Who)), s.number(st.Score, scoreDigits), s.worse(st, scoreDigits), s.judged(st), s.share(clamp(scoreOf(b.Wrong, st.Who))))
	}
	if b.Log.TooFew {
		t.Notes = []string{s.few(b.Log)}
	}
	return t
}

// outcomeTables says how the stated chances stood.
func (s speaker) outcomeTables(a *trust.OutcomeAccount, u trust.Unsaid) []Table {
	if a == nil {
		return []Table{{Heading: s.Say("score.brier"), Missing: s.Say("trust.nothing.outcome"), Notes: s.unsaid(u)}}
	}
	brier := s.measure(a.Brier)
	brier.Notes = append(brier.Notes, s.slope(a),
		s.Say("trust.lasting", say.With("yield", say.LitresPerSecond(advisor.TestedLPS)), say.With("chance", say.Chance(a.MeanLasts))))
	brier.Notes = append(brier.Notes, s.unsaid(u)...)
	return []Table{brier, s.reliability(a), s.answered(a)}
}

func (s speaker) unsaid(u trust.Unsaid) []string {
	if u.Count == 0 {
		return nil
	}
	return []string{s.Say("trust.unsaid", say.With("n", say.Count(u.Count)), say.With("share", say.Share(float64(u.Worked)/float64(u.Count))))}
}

func (s speaker) slope(a *trust.OutcomeAccount) string {
	i, ok := a.Slope.Get()
	if !ok {
		return s.Say("trust.no-slope")
	}
	const digits = 2
	return s.Say("trust.slope", say.With("effective", say.Number(i.Mid, digits)),
		say.With("spread", say.NumberRange(i.Lo, i.Hi, digits)))
}

func (s speaker) reliability(a *trust.OutcomeAccount) Table {
	t := Table{Heading: s.Say("trust.reliability"), Columns: []string{
		s.Say("trust.column.said"), s.Say("trust.column.worked"), s.Say("trust.column.interval"), s.Say("trust.column.bores"),
	}}
	for _, b := range a.Reliability {
		t.add(s.chance(clamp(b.Said)), s.share(b.Worked), s.between(b.Range), s.count(b.Cases))
	}
	return t
}

func (s speaker) answered(a *trust.OutcomeAccount) Table {
	t := Table{Heading: s.Say("trust.answered"), Columns: []string{
		s.Say("trust.column.evidence"), s.Say("trust.column.bores"), s.Say("trust.column.score"),
	}}
	both, ok := a.Answered.Get()
	if !ok {
		t.Missing = s.Say("trust.all-answered")
		return t
	}
	t.add(s.Say("trust.answered.enough"), s.count(both.Cases), s.number(both.Brier, scoreDigits))
	t.add(s.Say("trust.answered.not"), s.count(a.Cases-both.Cases), s.number(both.Rest, scoreDigits))
	t.Notes = []string{s.Say("trust.answered.note")}
	return t
}

func (s speaker) count(n int) string { return s.Say("value.count", say.With("n", say.Count(n))) }
