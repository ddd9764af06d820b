package sheet

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// NewSeason says a season's programme in a language.
func NewSeason(c *say.Catalogue, l say.Lang, x *season.Season) Account {
	s := newSeasonSpeaker(c, l, x)
	out := Account{
		Lang:  l.String(),
		Title: s.Say("season.title"),
		Short: Lines{s.Say("advice.heading.verdict"), s.short()},
		How:   Lines{s.Say("season.heading.how"), s.how()},
		Parts: []AccountPart{
			{Heading: s.Say("season.heading.ranked"), Tables: []Table{s.ranked(), s.spots()}, Key: "wide"},
			{Heading: s.Say("season.heading.parts"), Tables: []Table{s.windows(), s.districts()}, Key: "chosen"},
		},
		Terms: Lines{s.Say("advice.heading.cautions"), []string{
			s.Say("season.caution.walk"), s.Say("season.caution.test"), s.Say("season.caution.law"), s.Say("season.caution.chance"),
		}},
		Source: Lines{s.Say("advice.heading.source"), []string{s.Say("season.source", say.With("snapshot", say.Text(x.Snapshot)), say.With("seed", say.Text(strconv.FormatUint(x.Wishes.Seed, 10))))}},
	}
	if x.Other != nil {
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("season.heading.beside"), Tables: []Table{s.beside(), s.changes("season.changes", x.Beside)}, Key: "beside"})
	}
	if gain, ok := x.More.Get(); ok {
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("season.heading.more"), Tables: []Table{s.changes("season.more-changes", gain.Difference)}, Key: "more"})
	}
	out.Parts = append(out.Parts, AccountPart{Heading: s.Say("season.heading.why"), Tables: []Table{s.why()}, Key: "wide"})
	return out
}

// SeasonJSON writes a season as indented JSON; the same season gives the same bytes.
func SeasonJSON(x *season.Season) ([]byte, error) {
	out, err := json.MarshalIndent(x, "", "  ")
	return append(out, '\n'), err
}

// seasonSpeaker says one season.
type seasonSpeaker struct {
	speaker
	*season.Season
	of map[string]season.Village
}

func newSeasonSpeaker(c *say.Catalogue, l say.Lang, x *season.Season) seasonSpeaker {
	s := seasonSpeaker{speaker{c, l}, x, map[string]season.Village{}}
	for _, v := range x.Villages {
		s.of[v.ID] = v
	}
	return s
}

func (s seasonSpeaker) whole(v float64) string { return s.number(v, 0) }

// order is the picks in the order of people for the money, the best first.
func (s seasonSpeaker) order() []programme.Pick {
	picks := slices.Clone(s.Programme.Picks)
	slices.SortStableFunc(picks, func(a, b programme.Pick) int {
		switch x, y := a.People*b.Money, b.People*a.Money; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return picks
}

func (s seasonSpeaker) ranked() Table {
	t := Table{Heading: s.Say("season.ranked"), Columns: []string{
		s.Say("season.column.village"), s.Say("season.column.without"), s.Say("season.column.first"), s.Say("season.column.chance"), s.Say("season.column.attempts"),
		s.Say("season.column.depth"), s.Say("season.column.gains"), s.Say("season.column.cost"), s.Say("season.column.second"),
	}}
	if len(s.Programme.Picks) == 0 {
		t.Missing = s.Say("season.ranked.none")
		return t
	}
	for i, p := range s.order() {
		v := s.of[p.Village]
		name := s.Say("season.place", say.With("n", say.Count(i+1)), say.With("village", say.Text(s.name(v))))
		first := p.Tries[0]
		t.add(name, s.count(v.Unserved), s.attempt(first), s.first(p), s.number(p.Attempts, 2), s.deep(first.DepthM), s.whole(p.People), s.whole(p.Money), s.second(p))
		t.lead(2, s.adviceOn(first, v))
		if len(p.Tries) > 1 {
			t.lead(8, s.adviceOn(p.Tries[1], v))
		}
	}
	t.Notes = []string{s.Say("season.note.chance")}
	return t
}

func (s seasonSpeaker) name(v season.Village) string {
	if v.District == "" {
		return v.Name
	}
	return s.Say("season.village-in", say.With("village", say.Text(v.Name)), say.With("district", say.Text(v.District)))
}

// attempt says at which spot and by which method.
func (s seasonSpeaker) attempt(a programme.Attempt) string {
	return s.Say("season.attempt", say.With("method", say.Of("method."+string(a.Method))), say.With("value", say.Text(a.Spot)))
}

func (s seasonSpeaker) second(p programme.Pick) string {
	if len(p.Tries) < 2 {
		return s.Say("season.no-second")
	}
	code := "season.if-fails"
	if p.Tries[1].When == programme.Also {
		code = "season.besides"
	}
	return s.Say(code, say.With("value", say.Text(s.attempt(p.Tries[1]))), say.With("chance", say.Chance(clamp(p.Chance))))
}

// first is the chance of the first attempt, marked where there is not enough evidence.
func (s seasonSpeaker) first(p programme.Pick) string {
	chance := clamp(p.Tries[0].Chance)
	if unsure(s.of[p.Village], p) {
		return s.Say("season.unsure", say.With("chance", say.Chance(chance)))
	}
	return s.chance(chance)
}

// spots says where the spots of the chosen attempts lie.
func (s seasonSpeaker) spots() Table {
	t := Table{Heading: s.Say("season.spots"), Columns: []string{
		s.Say("season.column.village"), s.Say("season.column.spot"), s.Say("served.column.place"), s.Say("season.column.walk"), s.Say("season.column.risk"),
	}}
	for _, p := range s.order() {
		v, told := s.of[p.Village], ""
		for _, a := range p.Tries {
			for _, x := range v.Spots {
				if x.Name == a.Spot && x.Name != told {
					told = x.Name
					t.add(s.name(v), x.Name, s.position(x.At), s.distance(x.WalkM), s.risk(x.Risk))
					t.lead(1, s.adviceOn(a, v))
				}
			}
		}
	}
	t.Notes = []string{s.Say("season.note.spots"), s.Say("season.note.risk")}
	return t
}

func (s seasonSpeaker) deep(d geo.Opt[float64]) string {
	if m, ok := d.Get(); ok {
		return s.metres(m)
	}
	return s.Say("season.not-known")
}

func (s seasonSpeaker) risk(r geo.Opt[float64]) string {
	if p, ok := r.Get(); ok {
		return s.chance(clamp(p))
	}
	return s.Say("season.not-known")
}

func (s seasonSpeaker) windows() Table {
	t := Table{Heading: s.Say("season.windows"), Columns: []string{
		s.Say("season.column.window"), s.Say("season.column.weeks"), s.Say("season.column.weeks-most"), s.Say("season.column.weeks-of"), s.Say("season.column.villages"),
	}}
	for i, w := range s.Programme.Windows {
		var names []string
		for _, p := range s.Programme.Picks {
			if p.Window == i {
				names = append(names, s.of[p.Village].Name)
			}
		}
		t.add(s.window(w.Name), s.number(w.Weeks, 1), s.number(w.WeeksMost, 1), s.number(w.Of, 1), strings.Join(names, ", "))
	}
	return t
}

func (s seasonSpeaker) window(name string) string {
	if name == "" {
		return s.Say("season.whole")
	}
	return name
}

func (s seasonSpeaker) districts() Table {
	t := Table{Heading: s.Say("season.districts"), Columns: []string{
		s.Say("season.column.district"), s.Say("season.column.villages"), s.Say("season.column.without"), s.Say("season.column.gains"), s.Say("season.column.cost"), s.Say("season.column.bores"),
	}}
	bores := map[string]int{}
	for _, d := range s.Drilled {
		bores[d.District] = d.Bores
	}
	for _, d := range s.Programme.Districts {
		t.add(s.district(d.Name), s.count(d.Villages), s.count(d.Without), s.whole(d.People), s.whole(d.Money), s.count(bores[d.Name]))
	}
	return t
}

func (s speaker) district(name string) string {
	if name == "" {
		return s.Say("season.no-district")
	}
	return name
}

// beside holds the programme against the other one.
func (s seasonSpeaker) beside() Table {
	plain, careful := s.Programme, s.Other
	if s.Wishes.Caution > 0 {
		plain, careful = careful, plain
	}
	t := Table{Heading: s.Say("season.beside"), Columns: []string{s.Say("season.column.what"), s.Say("season.column.plain"), s.Say("season.column.careful")}}
	row := func(code string, of func(*programme.Programme) string) { t.add(s.Say(code), of(plain), of(careful)) }
	row("season.row.villages", func(p *programme.Programme) string { return s.count(len(p.Picks)) })
	row("season.row.people", func(p *programme.Programme) string { return s.whole(p.People) })
	row("season.row.range", func(p *programme.Programme) string {
		return s.Say("value.number", say.With("effective", say.NumberRange(p.Range.P10, p.Range.P90, 0)))
	})
	row("season.row.worst", func(p *programme.Programme) string {
		if worst, ok := p.Worst.Get(); ok {
			return s.whole(worst)
		}
		return s.Say("season.not-known")
	})
	row("season.row.money", func(p *programme.Programme) string { return s.whole(p.Money) })
	row("season.row.most", func(p *programme.Programme) string { return s.whole(p.MoneyMost) })
	t.Notes = []string{s.Say("season.note.careful")}
	return t
}

// changes lists what another programme does otherwise.
func (s seasonSpeaker) changes(heading string, d programme.Difference) Table {
	t := Table{Heading: s.Say(heading), Columns: []string{s.Say("season.column.what"), s.Say("season.column.villages")}}
	for _, row := range []struct {
		code string
		ids  []string
	}{{"season.added", d.Added}, {"season.dropped", d.Dropped}, {"season.changed", d.Changed}} {
		if len(row.ids) > 0 {
			names := make([]string, len(row.ids))
			for i, id := range row.ids {
				names[i] = s.of[id].Name
			}
			slices.Sort(names)
			t.add(s.Say(row.code), strings.Join(names, ", "))
		}
	}
	if len(t.Rows) == 0 {
		t.Missing = s.Say("season.same")
	}
	return t
}

// why says of each village why it is in or out, the largest need first.
func (s seasonSpeaker) why() Table {
	t := Table{Heading: s.Say("season.why"), Columns: []string{s.Say("season.column.village"), s.Say("season.column.without"), s.Say("season.column.why")}}
	reasons := map[string]programme.Reason{}
	for _, r := range s.Programme.Why {
		reasons[r.Village] = r
	}
	for _, v := range s.Villages {
		words := s.tell(reasons[v.ID].Message)
		if lost := s.lost(v); lost != "" && !reasons[v.ID].In {
			words += " " + lost
		}
		if v.Unserved > 0 && len(v.Spots) > 0 && v.Spots[0].Unsure {
			words += " " + s.Say("season.why.unsure")
		}
		t.add(s.name(v), s.count(v.Unserved), words)
	}
	return t
}

// lost says how many of the spots about a village were left, and why.
func (s seasonSpeaker) lost(v season.Village) string {
	for _, x := range v.Spots {
		if code, left := x.Left.Get(); left {
			return s.Say(string(code))
		}
	}
	return ""
}
