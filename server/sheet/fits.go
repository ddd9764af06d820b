package sheet

import (
	"io"
	"math"
	"strconv"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// NewFits says in a language what the answers were learnt from, what each number means,
// and what to do where something is off.
func NewFits(c *say.Catalogue, l say.Lang, f advisor.Fits) Account {
	s := speaker{c, l}
	out := Account{
		Lang:  l.String(),
		Title: s.Say("fit.title"),
		Short: Lines{s.Say("advice.heading.verdict"), s.fitsInShort(f)},
		How:   Lines{s.Say("fit.heading.todo"), s.fitsToDo(f)},
		Parts: []AccountPart{{Heading: s.Say("fit.heading.bores"), Tables: []Table{s.kinds(f.Kinds)}, Key: "bores"}},
		Terms: Lines{s.Say("fit.heading.read"), []string{s.Say("fit.read.scale"), s.Say("fit.read.left-out"), s.Say("fit.read.trust")}},
		Source: Lines{s.Say("advice.heading.source"), []string{
			s.Say("fit.source", say.With("n", say.Count(f.Bores)), say.With("snapshot", say.Text(f.Snapshot))),
		}},
	}
	if r, ok := f.Level.Get(); ok {
		out.Parts = append(out.Parts,
			AccountPart{Heading: s.Say("advice.heading.water"), Tables: []Table{s.levelFit(r)}, Key: "level"},
			AccountPart{Heading: s.Say("fit.heading.season"), Tables: []Table{s.seasonFit(r), s.monthsFit(r), s.yearsFit(r)}, Key: "season"},
			AccountPart{Heading: s.Say("fit.heading.land"), Tables: []Table{s.landFit(r)}, Key: "land"})
	}
	if r, ok := f.Strata.Get(); ok {
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("trust.heading.layers"), Tables: []Table{s.strataFit(r)}, Key: "strata"})
	}
	out.Parts = append(out.Parts, AccountPart{Heading: s.Say("fit.heading.ground"), Tables: []Table{s.groundFit(f.Ground)}, Key: "ground"})
	return out
}

// NewFitsPage says the fits in a language and draws them.
func NewFitsPage(c *say.Catalogue, l say.Lang, f advisor.Fits) (Account, error) {
	drawings, err := FitsDrawings(c, l, f)
	if err != nil {
		return Account{}, geo.Fail(geo.Internal, "sheet.NewFitsPage", geo.Message{}, err)
	}
	return NewFits(c, l, f).drawn(drawings)
}

// FitsFile writes the fits as one HTML file that needs no other.
func FitsFile(w io.Writer, c *say.Catalogue, l say.Lang, f advisor.Fits) error {
	page, err := NewFitsPage(c, l, f)
	if err != nil {
		return err
	}
	return page.file(w, c, l)
}

func (s speaker) fitsInShort(f advisor.Fits) (out []string) {
	r, ok := f.Level.Get()
	if !ok {
		out = append(out, s.Say("fit.no-level"))
	} else {
		out = append(out, s.Say("fit.short.level", say.With("n", say.Count(r.Readings)), say.With("total", say.Count(r.DryHoles))))
		if left := r.Shown.LeftOut; len(left.Cases) > 0 {
			out = append(out, s.Say("fit.short.left-out", say.With("length", say.Metres(left.OffM)), say.With("share", say.Share(left.Held))))
		}
		if r.RangeM > 0 {
			out = append(out, s.Say("fit.short.range", say.With("distance", say.Distance(r.RangeM))))
		}
	}
	if r, ok := f.Strata.Get(); ok {
		return append(out, s.Say("fit.short.strata", say.With("n", say.Count(r.Logs))))
	}
	return append(out, s.Say("fit.no-strata"))
}

// kinds lists how many bores say what, and what that counts as.
func (s speaker) kinds(k advisor.Kinds) Table {
	t := Table{Heading: s.Say("fit.kinds"), Columns: []string{s.Say("fit.column.kind"), s.Say("trust.column.bores"), s.Say("fit.column.counts")}}
	for _, row := range []struct {
		code string
		n    int
	}{
		{"fit.kind.rest", k.Rest},
		{"fit.kind.flowing", k.Flowing},
		{"fit.kind.dry", k.Dry},
		{"fit.kind.tight", k.Tight},
		{"fit.kind.vague", k.Vague},
		{"fit.kind.undated", k.Undated},
		{"fit.kind.deep", k.Deep},
		{"fit.kind.landless", k.Landless},
		{"fit.kind.points", k.Points},
		{"fit.kind.logs", k.Logs},
	} {
		t.add(s.Say(row.code), s.count(row.n), s.Say(row.code+".meaning"))
	}
	if read := k.Rest + k.Flowing + k.Dry + k.Tight; read < k.Stated {
		t.Notes = []string{s.Say("fit.sampled", say.With("n", say.Count(read)), say.With("total", say.Count(k.Stated)))}
	}
	return t
}

// numbers is a table of names, values and what they mean.
func (s speaker) numbers(heading string) Table {
	return Table{Heading: s.Say(heading), Columns: []string{s.Say("fit.column.what"), s.Say("fit.column.value"), s.Say("fit.column.meaning")}}
}

func (s speaker) explained(t *Table, code, value string) {
	t.add(s.Say(code), value, s.Say(code+".meaning"))
}

// factor writes a spread of shares of the depth as a factor.
func (s speaker) factor(variance float64) string { return s.times(math.Exp(math.Sqrt(variance))) }

// times writes a factor.
func (s speaker) times(factor float64) string {
	const digits = 2
	return s.Say("fit.factor", say.With("effective", say.Number(factor, digits)))
}

func (s speaker) levelFit(r level.Report) Table {
	t, v := s.numbers("fit.level"), r.Variogram
	if r.RangeM > 0 {
		s.explained(&t, "fit.range", s.distance(r.RangeM))
	}
	byShare := r.PerShare * r.PerShare
	s.explained(&t, "fit.field", s.factor(v.PartialSill/byShare))
	s.explained(&t, "fit.micro", s.factor(v.Micro/byShare))
	if left := r.Shown.LeftOut; len(left.Cases) > 0 {
		s.explained(&t, "fit.off", s.metres(left.OffM))
		s.explained(&t, "fit.deeper", s.metres(left.DeeperM))
		s.explained(&t, "fit.held", s.share(left.Held))
	}
	s.explained(&t, "fit.doubt.usual", s.times(r.Doubt.Usual))
	if len(r.Trend) > 0 {
		s.explained(&t, "fit.doubt.unusual", s.times(r.Doubt.Unusual))
	}
	s.explained(&t, "fit.scale", s.Say(scaleCode(r)))
	s.explained(&t, "fit.shift", s.metres(r.ShiftM))
	s.explained(&t, "fit.merged", s.count(v.Merged))
	s.explained(&t, "fit.loglik", s.number(v.LogLik, 1))
	s.explained(&t, "fit.condition", s.number(v.Condition, 0))
	return t
}

func (s speaker) seasonFit(r level.Report) Table {
	t, season := s.numbers("fit.season"), r.Season
	s.explained(&t, "fit.season.range", s.metres(season.RangeM))
	s.explained(&t, "fit.season.spread", s.metres(season.RangeSDM))
	s.explained(&t, "fit.season.low", s.month(season.Low))
	s.explained(&t, "fit.season.year", s.metres(season.YearSDM))
	if len(season.Years) > 0 {
		s.explained(&t, "fit.season.normal", s.metres(season.NormalSDM))
	}
	s.explained(&t, "fit.season.noise", s.metres(season.NoiseSDM))
	t.Notes = []string{s.Say(seasonCode(season)), s.Say(yearsCode(season))}
	return t
}

// scaleCode says on which scale depths are compared.
func scaleCode(r level.Report) string {
	if r.Root {
		return "fit.scale.root"
	}
	return "fit.scale.logarithm"
}

// yearsCode says from where the spread of years is.
func yearsCode(season level.Season) string {
	if len(season.Years) > 0 {
		return "fit.years.learnt"
	}
	return "fit.years.assumed"
}

// yearsFit lists how the years stood; none where they are not told.
func (s speaker) yearsFit(r level.Report) Table {
	t := Table{Heading: s.Say("fit.years"), Columns: []string{
		s.Say("fit.column.year"), s.Say("fit.column.readings"), s.Say("fit.column.deeper"), s.Say("trust.column.interval"),
	}}
	for _, y := range r.Season.Years {
		lo, hi := y.DeeperM-z95*y.SDM, y.DeeperM+z95*y.SDM
		t.add(strconv.Itoa(y.Year), s.count(y.Readings), s.metres(y.DeeperM), s.Say("fit.stood-between", say.With("level-range", say.MetresRange(lo, hi))))
	}
	if len(r.Season.Years) == 0 {
		t.Missing = s.Say("fit.years.none")
		return t
	}
	t.Notes = []string{s.Say("fit.years.meaning")}
	return t
}

// seasonCode says from where the season is.
func seasonCode(season level.Season) string {
	switch {
	case season.Given:
		return "fit.season.given"
	case season.Identified:
		return "fit.season.learnt"
	}
	return "fit.season.assumed"
}

// monthsFit lists by month what the readings say beside what the course says.
func (s speaker) monthsFit(r level.Report) Table {
	t := Table{Heading: s.Say("fit.months"), Columns: []string{
		s.Say("fit.column.month"), s.Say("fit.column.readings"), s.Say("fit.column.course"), s.Say("fit.column.stood"),
	}}
	for i, m := range r.Shown.Months {
		stood := s.Say("fit.none")
		if q, ok := m.RiseM.Get(); ok {
			stood = s.Say("fit.stood", say.With("level", say.Metres(q.Mid)), say.With("level-range", say.MetresRange(q.Lo, q.Hi)))
		}
		t.add(s.month(time.Month(i+1)), s.count(m.Readings), s.metres(r.Season.Rise[i]*r.Season.RangeM), stood)
	}
	t.Notes = []string{s.Say("fit.months.meaning")}
	return t
}

// landFit lists the slopes with their ranges.
func (s speaker) landFit(r level.Report) Table {
	t := Table{Heading: s.Say("fit.land"), Columns: []string{
		s.Say("fit.column.term"), s.Say("fit.column.slope"), s.Say("trust.column.interval"), s.Say("trust.column.so"),
	}}
	if len(r.Trend) == 0 {
		t.Missing = s.Say("fit.land.none")
		return t
	}
	for _, slope := range r.Trend {
		b, sd := slope.B/r.PerShare, slope.SD/r.PerShare
		lo, hi := b-z95*sd, b+z95*sd
		t.add(s.Say("land."+slope.Term), s.percent(b),
			s.percents(change(lo)/100, change(hi)/100), s.Say(slopeCode(lo, hi)))
	}
	t.Notes = []string{s.Say("fit.land.meaning")}
	return t
}

// change is by how many percent a depth changes where its logarithm changes by b.
func change(b float64) float64 { return 100 * math.Expm1(b) }

func (s speaker) percent(b float64) string {
	return s.Say("fit.percent", say.With("effective", say.Number(change(b), 0)))
}

func slopeCode(lo, hi float64) string {
	switch {
	case lo > 0:
		return "fit.slope.deeper"
	case hi < 0:
		return "fit.slope.shallower"
	}
	return "fit.slope.unsure"
}

func (s speaker) strataFit(r strata.Report) Table {
	t := s.numbers("fit.strata")
	const digits = 3
	s.explained(&t, "fit.strata.logs", s.count(r.Logs))
	s.explained(&t, "fit.strata.near", s.distance(r.NearM))
	s.explained(&t, "fit.strata.range", s.distance(r.RangeM))
	s.explained(&t, "fit.strata.apart", s.number(r.Apart, 1))
	s.explained(&t, "fit.strata.score", s.number(r.LogScore, digits))
	s.explained(&t, "fit.strata.profile", s.number(r.Profile, digits))
	return t
}

func (s speaker) month(m time.Month) string {
	return s.Say("fit.month", say.With("month", say.Month(m)))
}
