package pumptest

import (
	"strings"

	"waterstrike/geo"
)

// Longest is how many characters a test may have: some 10,000 readings, more than anyone
// reads by hand; a logger's are thinned first.
const Longest = 100_000

// Read reads a test: lines such as "discharge: 788 m3/d", "kind: recovery" or "water table:
// yes", then a table with a head, its cells parted by semicolons, tabs, commas or blanks.
//
//   - Units: any of s, min, h, d; m, cm, mm, km, ft, in; m³ by d, h, min, s, L by s, min, h, d,
//     US and imperial gallons a minute, cubic feet.
//   - Domain: up to [Longest] characters; a comma is the decimal mark unless it parts the cells.
//   - Errors: a [geo.Invalid] error that names the line and says what to write.
//   - Source: our own form.
//   - Checked by: TestReadAsPeopleWrite, TestRefusedWithWhatToWrite, FuzzRead.
func Read(text string) (Sheet, error) {
	var s Sheet
	if len(text) > Longest {
		return s, refuse("pumping.too-long", geo.With("n", geo.Count(Longest)))
	}
	var head []cell
	part := ""
	for i, line := range strings.Split(strings.ReplaceAll(text, "\r", ""), "\n") {
		line = strings.TrimSpace(strings.TrimPrefix(line, "\ufeff"))
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		var err error
		switch name, value, said := stated(line); {
		case said:
			err = s.state(i+1, name, value)
		case head == nil:
			part = separator(line)
			head, err = headOf(i+1, split(line, part))
		default:
			err = s.row(i+1, head, split(line, part), part != ",")
		}
		if err != nil {
			return s, err
		}
	}
	if len(s.Rows) == 0 {
		return s, refuse("pumping.no-readings")
	}
	s.Kind = s.kind(head)
	return s, s.levels(head)
}

func refuse(code geo.Code, args ...geo.Arg) error {
	return geo.Fail(geo.Invalid, "pumptest.Read", geo.Say(code, args...), nil)
}

func row(line int) geo.Arg { return geo.With("row", geo.Count(line)) }

func text(name, value string) geo.Arg {
	const most = 60
	if r := []rune(value); len(r) > most {
		value = string(r[:most])
	}
	return geo.With(name, geo.Text(value))
}

// stated splits a line that states a value.
func stated(line string) (name, value string, ok bool) {
	at := strings.IndexAny(line, ":=")
	if at < 0 {
		return "", "", false
	}
	return plain(strings.Trim(line[:at], " \t")), strings.Trim(line[at+1:], " \t;,"), true
}

// state takes a value of the whole test.
func (s *Sheet) state(line int, name, value string) error {
	switch name {
	case "kind", "essai", "ensaio", "test": // the columns tell it where nobody says
		for _, k := range Kinds() {
			if plain(value) == string(k) {
				s.Kind = k
				return nil
			}
		}
		return refuse("pumping.unknown-kind", row(line), text("value", value))
	case "water table", "nappe libre", "nivel livre":
		word := plain(value)
		s.WaterTable = word == "yes" || word == "oui" || word == "sim"
		if !s.WaterTable && word != "no" && word != "non" && word != "nao" {
			return refuse("pumping.yes-or-no", row(line), text("value", value))
		}
		return nil
	}
	if known, ok := otherWords[name]; ok {
		name = known
	}
	g, ok := givens[name]
	if !ok {
		return refuse("pumping.unknown-value", row(line), text("value", name), text("allowed", strings.Join(Names(), ", ")))
	}
	v, ok := g.of.quantity(value)
	if !ok || v < 0 || v == 0 && name != "rest" {
		return refuse("pumping.bad-value", row(line), text("field", name), text("value", value), text("entry", g.of.example()))
	}
	*g.set(s) = geo.Some(v)
	return nil
}

// separator is what parts the cells of a line.
func separator(line string) string {
	for _, part := range []string{";", "\t", ","} {
		if strings.Contains(line, part) {
			return part
		}
	}
	return " "
}

// split cuts a line into cells. Where blanks part them, a bracketed unit stays with its name.
func split(line, part string) []string {
	if part != " " {
		return strings.Split(line, part)
	}
	return strings.Fields(strings.NewReplacer(" (", "(", " [", "[").Replace(line))
}

// cell is a column of the table.
type cell struct {
	what   column
	factor float64
}

// trimmed leaves out empty cells at the end, down to a number of cells.
func trimmed(cells []string, least int) []string {
	for len(cells) > least && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// headOf reads the head of the table.
func headOf(line int, cells []string) ([]cell, error) {
	cells = trimmed(cells, 1)
	out := make([]cell, len(cells))
	for i, c := range cells {
		name, unit := unitOf(c)
		what, known := heads[plain(name)]
		if !known {
			return nil, refuse("pumping.unknown-column", row(line), text("value", strings.TrimSpace(c)))
		}
		factor, ok := what.of().factor(unit)
		if !ok {
			return nil, refuse("pumping.no-unit", row(line), text("value", strings.TrimSpace(c)), text("entry", name+" ("+what.example()+")"))
		}
		out[i] = cell{what, factor}
		for _, before := range out[:i] {
			if before.what == what {
				return nil, refuse("pumping.column-twice", row(line), text("value", strings.TrimSpace(c)))
			}
		}
	}
	return out, nil
}

// example is a unit for a column.
func (c column) example() string { return [...]string{"min", "", "m", "m", "m", "L/s"}[c] }

// unitOf parts a head into its name and its unit: "t (min)", "s, m", "time_min" or "time min".
func unitOf(head string) (name, unit string) {
	head = strings.Trim(strings.TrimSpace(head), `"`)
	if at := strings.IndexAny(head, "(["); at > 0 {
		return strings.TrimSpace(head[:at]), strings.Trim(head[at:], "()[] ")
	}
	if _, whole := heads[plain(head)]; whole {
		return head, ""
	}
	if at := strings.LastIndexAny(head, " _,"); at > 0 {
		return strings.Trim(head[:at], " _,"), strings.TrimSpace(head[at+1:])
	}
	return head, ""
}

// row takes a line of the table.
func (s *Sheet) row(line int, head []cell, cells []string, comma bool) error {
	if cells = trimmed(cells, len(head)); len(cells) != len(head) {
		return refuse("pumping.cells", row(line), geo.With("n", geo.Count(len(cells))), geo.With("total", geo.Count(len(head))))
	}
	r := Row{Line: line}
	for i, c := range cells {
		if strings.TrimSpace(c) == "" {
			continue
		}
		v, ok := number(strings.Trim(strings.TrimSpace(c), `"`), comma)
		if !ok {
			return refuse("pumping.bad-number", row(line), text("value", strings.TrimSpace(c)))
		}
		*r.field(head[i].what) = geo.Some(v * head[i].factor)
	}
	s.Rows = append(s.Rows, r)
	return nil
}

func (r *Row) field(c column) *geo.Opt[float64] {
	switch c {
	case timeColumn:
		return &r.Days
	case ratioColumn:
		return &r.Ratio
	case distanceColumn:
		return &r.DistanceM
	case dischargeColumn:
		return &r.Discharge
	}
	return &r.DrawdownM // levels are turned into drawdowns once all is read
}

// kind is what was said, or what the columns can only mean.
func (s *Sheet) kind(head []cell) Kind {
	has := map[column]bool{}
	for _, c := range head {
		has[c.what] = true
	}
	switch {
	case s.Kind != "":
		return s.Kind
	case has[ratioColumn], s.PumpedDays.Known():
		return Recovery
	case s.StartM.Known():
		return Slug
	case !has[timeColumn] && has[dischargeColumn]:
		return Steps
	case !has[timeColumn] && has[distanceColumn]:
		return Distance
	}
	return Drawdown
}

// levels turns levels into drawdowns, of a slug without their sign.
func (s *Sheet) levels(head []cell) error {
	for _, c := range head {
		if c.what != levelColumn {
			continue
		}
		rest, ok := s.RestM.Get()
		if !ok {
			return refuse("pumping.no-rest")
		}
		for i := range s.Rows {
			if level, known := s.Rows[i].DrawdownM.Get(); known {
				s.Rows[i].DrawdownM = geo.Some(level - rest)
			}
		}
	}
	if s.Kind == Slug {
		for i := range s.Rows {
			if m, known := s.Rows[i].DrawdownM.Get(); known && m < 0 {
				s.Rows[i].DrawdownM = geo.Some(-m)
			}
		}
	}
	return nil
}
