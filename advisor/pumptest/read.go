package pumptest

import (
	"regexp"
	"slices"
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
	var t table
	t.pointed = decimalPoint.MatchString(text)
	commas := t.pointed || decimalComma.MatchString(text)
	for i, line := range strings.Split(strings.ReplaceAll(text, "\r", ""), "\n") {
		line = strings.TrimSpace(strings.TrimPrefix(line, "\ufeff"))
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		var err error
		if name, value, said := stated(line); said && t.units == "" {
			if value, err = t.plain(i+1, value, commas); err == nil {
				err = s.state(i+1, name, value)
			}
		} else {
			err = t.line(&s, i+1, line)
		}
		if err != nil {
			return s, err
		}
	}
	if t.waiting != nil {
		return s, t.waiting
	}
	if len(s.Rows) == 0 && !s.ByHand.Known() && !s.Bailed.Known() {
		return s, refuse("pumping.no-readings")
	}
	s.Kind = s.kind(t.head)
	return s, s.levels(t.head)
}

// decimalPoint tells that a text writes decimals with a point: a comma then parts thousands.
var decimalPoint = regexp.MustCompile(`[0-9]\.[0-9]|(^|[\s;,])\.[0-9]`)

// table is the table as far as it was read.
type table struct {
	head    []cell
	part    string // what parts its cells
	pointed bool
	units   string // a head without units, until the line below it was looked at
	waiting error  // what is wrong with it if there are none there either
}

// line takes a line of the table: its head, the units below that, or readings.
func (t *table) line(s *Sheet, at int, line string) (err error) {
	switch {
	case t.head != nil:
		return s.row(at, t.head, t.cells(line), t.part != ",", t.pointed)
	case t.units != "":
		if joined, ok := withUnits(split(t.units, t.part), t.cells(line)); ok {
			t.units, t.waiting = "", nil
			t.head, err = headOf(at, joined)
			return err
		}
		return t.waiting
	}
	t.part = separator(line)
	if t.head, err = headOf(at, split(line, t.part)); err != nil && t.waiting == nil {
		t.units, t.waiting = line, err // the units may stand below
		return nil
	}
	return err
}

// cells cuts a line below the head: numbers may stand one blank apart where names stand two.
func (t *table) cells(line string) []string {
	if t.part == "  " {
		return split(line, " ")
	}
	return split(line, t.part)
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

// row takes a line of readings: one for each place that has a column of its own.
func (s *Sheet) row(line int, head []cell, cells []string, comma, pointed bool) error {
	cells = trimmed(cells, len(head))
	wide := slices.ContainsFunc(head, func(c cell) bool { return c.at.Known() })
	if n := len(head) - len(cells); wide && n > 0 && n < len(head)-1 {
		cells = append(cells, make([]string, n)...) // the last places were not read any more
	}
	if len(cells) != len(head) {
		return refuse("pumping.cells", row(line), geo.With("n", geo.Count(len(cells))), geo.With("total", geo.Count(len(head))))
	}
	whole := Row{Line: line}
	var places []Row
	for i, c := range cells {
		c = strings.Trim(strings.TrimSpace(c), `"`)
		if c == "" || c == "-" || c == "–" {
			continue
		}
		if comma && pointed {
			c = thousands(c)
		}
		v, ok := number(c, comma)
		if !ok {
			return refuse("pumping.bad-number", row(line), text("value", c))
		}
		if at, own := head[i].at.Get(); own {
			places = append(places, Row{DistanceM: geo.Some(at), DrawdownM: geo.Some(v * head[i].factor)})
			continue
		}
		*whole.field(head[i].what) = geo.Some(v * head[i].factor)
	}
	if !wide {
		s.Rows = append(s.Rows, whole)
	}
	for _, p := range places {
		one := whole
		one.DistanceM, one.DrawdownM = p.DistanceM, p.DrawdownM
		s.Rows = append(s.Rows, one)
	}
	return nil
}

// parted is a number whose thousands are parted by commas.
var parted = regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?( ?[a-z]+)?$`)

// thousands takes the commas out of a number that has them for thousands.
func thousands(c string) string {
	if !parted.MatchString(c) {
		return c
	}
	return strings.ReplaceAll(c, ",", "")
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
		has[distanceColumn] = has[distanceColumn] || c.at.Known()
	}
	switch {
	case s.Kind != "":
		return s.Kind
	case s.Bailed.Known():
		return Bailer
	case s.ByHand.Known() && len(s.Rows) == 0:
		return Buckets
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
		break // columns of several places hold levels alike
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
