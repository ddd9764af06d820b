package pumptest

import (
	"regexp"
	"slices"
	"strings"

	"waterstrike/advisor/hydraulics"
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

// decimalComma tells that a text writes decimals with a comma.
var decimalComma = regexp.MustCompile(`[0-9],[0-9]{1,2}([^0-9]|$)|(^|[^0-9])0,[0-9]`)

// leading is a number at the head of a value whose thousands are parted by commas, or that has
// three decimals after a comma.
var leading = regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?`)

// plain takes commas out of a value that parts thousands by them. Where nothing in the text
// tells what a comma is, it is asked: a thousand times too little would look like an answer.
func (t *table) plain(line int, value string, told bool) (string, error) {
	number := leading.FindString(value)
	switch {
	case number == "" || told && !t.pointed && strings.Count(number, ",") == 1:
		return value, nil
	case !told && strings.Count(number, ",") == 1 && !strings.Contains(number, "."):
		return "", refuse("pumping.which-comma", row(line), text("value", value), text("entry", strings.Replace(number, ",", "", 1)), text("why", strings.Replace(number, ",", ".", 1)))
	}
	return strings.ReplaceAll(number, ",", "") + value[len(number):], nil
}

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

// withUnits puts the units of a line to the names of the line above.
func withUnits(names, units []string) ([]string, bool) {
	units = trimmed(units, len(names))
	if len(units) != len(names) {
		return nil, false
	}
	out := make([]string, len(names))
	for i, name := range names {
		unit := strings.Trim(strings.TrimSpace(units[i]), "()[]\"")
		if _, isNumber := number(unit, true); isNumber {
			return nil, false
		}
		out[i] = name
		if unit != "" && unit != "-" {
			out[i] = name + " (" + unit + ")"
		}
	}
	return out, true
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
	if at < 0 || line[0] >= '0' && line[0] <= '9' || line[0] == '.' { // a reading such as 1:30
		return "", "", false
	}
	return plain(strings.Trim(line[:at], " \t")), strings.Trim(line[at+1:], " \t;,"), true
}

// state takes a value of the whole test.
func (s *Sheet) state(line int, name, value string) error {
	switch name {
	case "kind", "essai", "ensaio", "test": // the columns tell it where nobody says
		for _, k := range Kinds() {
			if plain(value) == string(k) || kindWords[plain(value)] == k {
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
	switch name {
	case "buckets", "bailed":
		return s.counted(line, name, value)
	case "discharge":
		if said, err := s.rate(line, value); said || err != nil {
			return err
		}
	}
	g, ok := givens[name]
	if !ok {
		return refuse("pumping.unknown-value", row(line), text("value", name), text("allowed", strings.Join(Names(), ", ")))
	}
	v, ok := g.of.quantity(value)
	if !ok || v < 0 || v == 0 && name != "rest" {
		return refuse("pumping.bad-value", row(line), text("field", name), text("value", value), text("entry", g.example(name)))
	}
	*g.set(s) = geo.Some(v)
	return nil
}

// counted takes what was measured by bucket and watch.
func (s *Sheet) counted(line int, name, value string) error {
	if name == "bailed" {
		c, err := hydraulics.ReadCount(value)
		if err != nil {
			return refuse("pumping.bad-bails", row(line), text("value", value))
		}
		s.Bailed = geo.Some(c)
		return nil
	}
	d, err := hydraulics.ReadBuckets(value)
	if err != nil {
		return refuse("pumping.bad-buckets", row(line), text("value", value))
	}
	s.ByHand, s.Discharge = geo.Some(d), geo.Some(d.M3D())
	return nil
}

// since are the words between a discharge and the time from which it ran.
var since = regexp.MustCompile(`(?i)^(.+?)[ ,;]+(?:from|after|since|depuis|à partir de|a partir de|après|desde|depois de|após) +(.+)$`)

// rate takes a discharge that ran from a time on: "18 m3/h from 60 min"; said is false for one
// without a time.
func (s *Sheet) rate(line int, value string) (said bool, err error) {
	m := since.FindStringSubmatch(value)
	if m == nil {
		return false, nil
	}
	q, ok1 := discharge.quantity(m[1])
	days, ok2 := duration.quantity(m[2])
	if !ok1 || !ok2 || q < 0 || days < 0 {
		return true, refuse("pumping.bad-value", row(line), text("field", "discharge"), text("value", value), text("entry", "788 m3/d from 60 min"))
	}
	if first, ok := s.Discharge.Get(); ok && len(s.Rates) == 0 {
		s.Rates = []hydraulics.Rate{{FromDays: 0, DischargeM3D: first}}
	}
	if n := len(s.Rates); n > 0 && days <= s.Rates[n-1].FromDays {
		return true, refuse("pumping.out-of-order", row(line))
	}
	s.Rates = append(s.Rates, hydraulics.Rate{FromDays: days, DischargeM3D: q})
	return true, nil
}

// separator is what parts the cells of a line.
func separator(line string) string {
	for _, part := range []string{";", "\t", ","} {
		if strings.Contains(line, part) {
			return part
		}
	}
	if twoBlanks.MatchString(line) {
		return "  "
	}
	return " "
}

// twoBlanks part the cells of a head whose names have blanks of their own.
var twoBlanks = regexp.MustCompile(` {2,}`)

// split cuts a line into cells. Where blanks part them, a bracketed unit stays with its name.
func split(line, part string) []string {
	switch part {
	case " ":
	case "  ":
		return twoBlanks.Split(line, -1)
	default:
		return strings.Split(line, part)
	}
	return strings.Fields(strings.NewReplacer(" (", "(", " [", "[").Replace(line))
}

// cell is a column of the table; at is the distance of the place that it alone was read at.
type cell struct {
	what   column
	factor float64
	at     geo.Opt[float64]
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
		var at geo.Opt[float64]
		if !known {
			what, at, known = placeOf(name)
		}
		if !known {
			return nil, refuse("pumping.unknown-column", row(line), text("value", strings.TrimSpace(c)))
		}
		factor, ok := what.of().factor(unit)
		if !ok {
			return nil, refuse("pumping.no-unit", row(line), text("value", strings.TrimSpace(c)), text("entry", name+" ("+what.example()+")"))
		}
		out[i] = cell{what, factor, at}
		for _, before := range out[:i] {
			if before.what == what && before.at == at {
				return nil, refuse("pumping.column-twice", row(line), text("value", strings.TrimSpace(c)))
			}
		}
	}
	return out, nil
}

// placed is a column that names the place that it was read at, such as "drawdown at 30 m".
var placed = regexp.MustCompile(`(?i)^(.+?)[ ,]+(?:at|à|a|r ?=)? *([0-9.,]+ *(?:m|ft|pieds|pés))$`)

// placeOf reads the name of such a column.
func placeOf(name string) (column, geo.Opt[float64], bool) {
	m := placed.FindStringSubmatch(strings.TrimSpace(name))
	if m == nil {
		return 0, geo.Opt[float64]{}, false
	}
	what, known := heads[plain(m[1])]
	at, ok := length.quantity(thousands(m[2]))
	return what, geo.Some(at), known && ok && at > 0 && (what == drawdownColumn || what == levelColumn)
}

// example is a unit for a column.
func (c column) example() string { return [...]string{"min", "", "m", "m", "m", "L/s"}[c] }

// unitOf parts a head into its name and its unit: "t (min)", "s, m", "time_min" or "time min".
func unitOf(head string) (name, unit string) {
	head = strings.Trim(strings.TrimSpace(head), `"`)
	if at := strings.LastIndexAny(head, "(["); at > 0 {
		return strings.TrimSpace(head[:at]), strings.Trim(head[at:], "()[] ")
	}
	if _, whole := heads[plain(head)]; whole {
		return head, ""
	}
	if _, alone := duration.factor(head); alone && len(head) > 1 { // a column headed "minutes"
		return "time", head
	}
	if at := strings.LastIndexAny(head, " _,"); at > 0 {
		return strings.Trim(head[:at], " _,"), strings.TrimSpace(head[at+1:])
	}
	return head, ""
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
