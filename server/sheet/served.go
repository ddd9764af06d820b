package sheet

import (
	"encoding/json"
	"io"
	"strconv"

	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// NewServed says in a language what was achieved. Every figure leads to the records that
// it rests on, which are listed at the end.
func NewServed(c *say.Catalogue, l say.Lang, a *season.Account) Account {
	s := &servedSpeaker{speaker: speaker{c, l}, Account: a}
	out := Account{
		Lang:  l.String(),
		Title: s.Say("served.title", say.With("date", dateValue(a.Ask.On))),
		Short: Lines{s.Say("advice.heading.verdict"), s.short()},
		How:   Lines{s.Say("season.heading.how"), s.how()},
		Parts: []AccountPart{
			{Heading: s.Say("served.heading.people"), Tables: []Table{s.districts(), s.years(), s.out()}, Key: "people"},
			{Heading: s.Say("served.heading.bores"), Tables: []Table{s.outcomes(), s.rates("served.by-year", a.ByYear, s.year), s.rates("served.by-method", a.ByMethod, s.method)}, Key: "bores"},
			{Heading: s.Say("served.heading.cost"), Tables: []Table{s.costs()}, Key: "cost"},
			{Heading: s.Say("served.heading.lasting"), Tables: []Table{s.lasting()}, Key: "lasting"},
		},
		Terms: Lines{s.Say("advice.heading.cautions"), []string{s.Say("served.caution.near"), s.Say("served.caution.visits"), s.Say("served.caution.interval")}},
		Source: Lines{s.Say("advice.heading.source"), []string{
			s.Say("served.source", say.With("snapshot", say.Text(a.Snapshot))), a.Ask.Standard.Source, a.Ask.Standard.Mark,
		}},
	}
	out.Parts = append(out.Parts, AccountPart{Heading: s.Say("served.heading.records"), Tables: s.records, Key: "records"})
	return out
}

// servedSpeaker says one account and gathers the records that its figures rest on.
type servedSpeaker struct {
	speaker
	*season.Account
	records []Table
}

// rest lists the records of a figure at the end and returns where they stand; nowhere
// for none.
func (s *servedSpeaker) rest(figure string, ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	const most = 1000
	t := Table{
		ID:      "records-" + strconv.Itoa(len(s.records)+1),
		Heading: s.Say("served.records-of", say.With("value", say.Text(figure)), say.With("n", say.Count(len(ids)))),
		Columns: []string{s.Say("served.column.record"), s.Say("served.column.id"), s.Say("served.column.place")},
	}
	for _, id := range ids[:min(most, len(ids))] {
		where := ""
		if at, known := s.Places[id].Get(); known {
			where = s.Say("value.place", say.With("place", say.Position(at.Lat, at.Lon)))
		}
		t.add(s.Labels[id], id, where)
	}
	if n := len(ids) - most; n > 0 {
		t.Notes = []string{s.Say("served.more-records", say.With("n", say.Count(n)))}
	}
	s.records = append(s.records, t)
	return "#" + t.ID
}

func (s *servedSpeaker) short() (out []string) {
	now := s.Now
	if share, ok := coverage.Share(now.Served, now.Living).Get(); ok {
		out = append(out, s.Say("served.short.people", say.With("n", say.Count(now.Served.N)), say.With("total", say.Count(now.Living.N)), say.With("share", say.Share(share))))
	} else {
		out = append(out, s.Say("served.short.nobody"))
	}
	rate := s.Outcomes.Rate
	if share, ok := rate.Share.Get(); ok {
		out = append(out, s.Say("served.short.rate", say.With("n", say.Count(rate.Producing)), say.With("total", say.Count(rate.Known)), say.With("share", say.Share(share)),
			say.With("spread", say.NumberRange(100*rate.Range.Lo, 100*rate.Range.Hi, 0))))
	}
	if kept := s.Outcomes.Kept; kept.Bores > 0 {
		out = append(out, s.Say("served.short.foretold", say.With("need", say.Number(kept.Foretold, 0)), say.With("n", say.Count(kept.Found)),
			say.With("total", say.Count(kept.Bores)), say.With("spread", say.NumberRange(float64(kept.Range[0]), float64(kept.Range[1]), 0))))
	} else {
		out = append(out, s.Say("served.short.not-foretold"))
	}
	if per, ok := s.Outcomes.Cost.Person.Per.Get(); ok {
		out = append(out, s.Say("served.short.cost", say.With("price", say.Number(per, 2)), say.With("value", say.Text(s.Currency))))
	}
	if s.Lasting != nil {
		for _, h := range s.Lasting.Horizon {
			if step, ok := h.Found.Get(); ok && h.Years == 1 {
				out = append(out, s.Say("served.short.lasting", say.With("share", say.Share(step.Survival))))
			}
		}
	}
	return out
}

func (s *servedSpeaker) how() []string {
	w := s.Ask
	out := []string{
		s.Say("served.how.standard", say.With("distance", say.Distance(w.Standard.WalkM)), say.With("value", say.Text(StandardName(s.catalogue, s.lang, w.Standard.Code))), say.With("date", dateValue(w.On))),
		s.Say("served.how.shared"), s.Say("served.how.bores"),
	}
	if w.Tested {
		out = append(out, s.Say("season.how.tested"))
	} else {
		out = append(out, s.Say("served.how.untested"))
	}
	for _, w := range s.Waivers {
		out = append(out, s.Say("served.how.waived", say.With("bore", say.Text(s.Labels[w.Bore])), say.With("item", say.Of("analyte."+w.Analyte)),
			say.With("person", say.Text(w.By)), say.With("why", say.Text(w.Reason))))
	}
	if n := len(s.Now.PeopleUnknown); n > 0 {
		out = append(out, s.Say("season.how.unknown", say.With("n", say.Count(n))))
	}
	if n := len(s.Now.DryUnknown); n > 0 {
		out = append(out, s.Say("served.how.dry", say.With("n", say.Count(n))))
	}
	return out
}

func (s *servedSpeaker) percent(share geo.Opt[float64]) string {
	if v, ok := share.Get(); ok {
		return s.share(v)
	}
	return s.Say("season.not-known")
}

func (s *servedSpeaker) districts() Table {
	t := Table{Heading: s.Say("served.districts"), Columns: []string{
		s.Say("season.column.district"), s.Say("served.column.served"), s.Say("served.column.living"), s.Say("served.column.share"), s.Say("served.column.points"),
	}}
	add := func(name string, living, served coverage.People) {
		t.add(name, s.count(served.N), s.count(living.N), s.percent(coverage.Share(served, living)), s.count(len(served.Points)))
		t.lead(1, s.rest(s.Say("served.figure.villages", say.With("value", say.Text(name))), served.Villages))
		t.lead(2, s.rest(s.Say("served.figure.living", say.With("value", say.Text(name))), living.Villages))
		t.lead(4, s.rest(s.Say("served.figure.points", say.With("value", say.Text(name))), served.Points))
	}
	add(s.Say("served.all"), s.Now.Living, s.Now.Served)
	if len(s.Now.Districts) > 1 {
		for _, d := range s.Now.Districts {
			add(s.district(d.Name), d.Living, d.Served)
		}
	}
	return t
}

func (s *servedSpeaker) years() Table {
	t := Table{Heading: s.Say("served.years"), Columns: []string{
		s.Say("served.column.year"), s.Say("served.column.served"), s.Say("served.column.share"), s.Say("served.column.at-most"),
	}}
	for _, y := range s.Years {
		share := geo.Opt[float64]{}
		if y.Living > 0 {
			share = geo.Some(float64(y.Served) / float64(y.Living))
		}
		t.add(strconv.Itoa(y.On.Year), s.count(y.Served), s.percent(share), s.count(y.AtMost))
		t.lead(1, s.rest(s.date(y.On), y.Points))
	}
	t.Notes = []string{s.Say("served.note.years")}
	return t
}

func (s *servedSpeaker) out() Table {
	t := Table{Heading: s.Say("served.out"), Columns: []string{s.Say("season.column.why"), s.Say("served.column.points")}}
	for _, o := range s.Now.Out {
		t.add(s.Say(string(o.Why)), s.count(len(o.Points)))
		t.lead(1, s.rest(s.Say(string(o.Why)), o.Points))
	}
	if len(t.Rows) == 0 {
		t.Missing = s.Say("served.out.none")
	}
	return t
}

func (s *servedSpeaker) outcomes() Table {
	t := Table{Heading: s.Say("served.outcomes"), Columns: []string{s.Say("served.column.outcome"), s.Say("served.column.group")}}
	for _, o := range s.Outcomes.Outcomes {
		words := s.Say("outcome." + string(o.Outcome))
		t.add(words, s.count(len(o.Records)))
		t.lead(1, s.rest(words, o.Records))
	}
	if len(t.Rows) == 0 {
		t.Missing = s.Say("served.no-bores")
	}
	return t
}

// percents is a range of shares.
func (s speaker) percents(lo, hi float64) string {
	return s.Say("served.percents", say.With("spread", say.NumberRange(100*lo, 100*hi, 0)))
}

func (s *servedSpeaker) year(group string) string {
	if group == "" {
		return s.Say("season.not-known")
	}
	return group
}

func (s *servedSpeaker) method(group string) string { return s.Say("method." + group) }

// rates is the share that produced, by group, with what was foretold of the same bores.
func (s *servedSpeaker) rates(heading string, groups []coverage.OutcomeAccount, name func(string) string) Table {
	t := Table{Heading: s.Say(heading), Columns: []string{
		s.Say("served.column.group"), s.Say("served.column.producing"), s.Say("served.column.known"), s.Say("served.column.share"), s.Say("trust.column.interval"), s.Say("served.column.foretold"),
	}}
	add := func(name string, a coverage.OutcomeAccount) {
		interval, foretold := "", s.Say("season.not-known")
		if a.Rate.Known > 0 {
			interval = s.percents(a.Rate.Range.Lo, a.Rate.Range.Hi)
		}
		if k := a.Kept; k.Bores > 0 {
			foretold = s.Say("served.foretold", say.With("need", say.Number(k.Foretold, 0)), say.With("n", say.Count(k.Found)), say.With("total", say.Count(k.Bores)),
				say.With("spread", say.NumberRange(float64(k.Range[0]), float64(k.Range[1]), 0)))
		}
		t.add(name, s.count(a.Rate.Producing), s.count(a.Rate.Known), s.percent(a.Rate.Share), interval, foretold)
		t.lead(2, s.rest(name, a.Rate.Records))
	}
	if s.Outcomes.Rate.Known == 0 {
		t.Missing = s.Say("served.no-bores")
		return t
	}
	add(s.Say("served.all"), s.Outcomes)
	for _, g := range groups {
		add(name(g.Group), g)
	}
	return t
}

func (s *servedSpeaker) costs() Table {
	t := Table{Heading: s.Say("served.costs"), Columns: []string{s.Say("season.column.what"), s.Say("served.column.price"), s.Say("served.column.spent"), s.Say("served.column.bought"), s.Say("served.column.group")}}
	if s.Currency == "" {
		t.Missing = s.Say("served.no-costs")
		return t
	}
	cost := s.Outcomes.Cost
	for _, row := range []struct {
		code string
		r    coverage.Ratio
	}{{"served.per-metre", cost.Metre}, {"served.per-success", cost.Success}, {"served.per-person", cost.Person}} {
		price := s.Say("season.not-known")
		if per, ok := row.r.Per.Get(); ok {
			price = s.Say("served.money", say.With("price", say.Number(per, 2)), say.With("value", say.Text(s.Currency)))
		}
		t.add(s.Say(row.code), price, s.number(row.r.Cost, 0), s.number(row.r.Bought, 0), s.count(len(row.r.Records)))
		t.lead(4, s.rest(s.Say(row.code), row.r.Records))
	}
	t.Notes = []string{s.Say("served.note.costs", say.With("n", say.Count(len(cost.Person.Lacking))))}
	return t
}

func (s *servedSpeaker) lasting() Table {
	t := Table{Heading: s.Say("served.lasting"), Columns: []string{
		s.Say("served.column.after"), s.Say("served.column.works"), s.Say("trust.column.interval"), s.Say("served.column.watched"), s.Say("served.column.works-seen"),
	}}
	if s.Lasting == nil {
		t.Missing = s.Say("coverage.no-spans")
		return t
	}
	where := s.rest(s.Say("served.lasting"), s.Lasting.Records)
	for _, h := range s.Lasting.Horizon {
		works, interval, watched, seen := s.Say("served.nobody-watched"), "", s.count(0), s.Say("served.nobody-watched")
		if step, ok := h.Found.Get(); ok {
			works, watched = s.share(step.Survival), s.count(step.AtRisk)
			if i, ok := step.Range.Get(); ok {
				interval = s.percents(i.Lo, i.Hi)
			}
		}
		if step, ok := h.Seen.Get(); ok {
			seen = s.share(step.Survival)
		}
		t.add(s.Say("served.after", say.With("need", say.Number(h.Years, 0))), works, interval, watched, seen)
		t.lead(3, where)
	}
	t.Notes = []string{s.Say("served.note.lasting", say.With("n", say.Count(len(s.Lasting.Records))), say.With("total", say.Count(len(s.Lasting.Records)+len(s.Lasting.Lacking))))}
	return t
}

// ServedJSON writes an account as indented JSON; the same account gives the same bytes.
func ServedJSON(a *season.Account) ([]byte, error) {
	out, err := json.MarshalIndent(a, "", "  ")
	return append(out, '\n'), err
}

// NewServedPage says an account in a language and draws it.
func NewServedPage(c *say.Catalogue, l say.Lang, a *season.Account) (Account, error) {
	drawings, err := ServedDrawings(c, l, a)
	if err != nil {
		return Account{}, err
	}
	return NewServed(c, l, a).drawn(drawings)
}

// ServedFile writes an account as one HTML file that needs no other.
func ServedFile(w io.Writer, c *say.Catalogue, l say.Lang, a *season.Account) error {
	page, err := NewServedPage(c, l, a)
	if err != nil {
		return err
	}
	return page.file(w, c, l)
}
