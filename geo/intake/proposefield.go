package intake

import (
	"math"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// fit returns the share of a column's cells that may be what its name says; 0 where they
// are too few.
func (p *proposal) fit(d *draft, c *profile, meant string) float64 {
	share, least := 1.0, enough
	switch meant {
	case "lon", "lat":
		share = c.share(func(text string) bool { return angle(text, d.table.Decimal, meant) })
	case "east", "north":
		share = d.numbers(c, 180, 2e7)
	case "depth", "level", "reference", "refusal", "top", "base", "ground", "yield", "diameter":
		share = c.share(func(text string) bool { return isMeasure(text, d.table.Decimal) })
		if c.flags() {
			share = 0
		}
	case "people", "users", "minutes":
		share = d.numbers(c, 0, 1e7)
	case "dry":
		share = c.share(func(text string) bool { _, ok := readMonths(text); return ok })
	case "words":
		share, least = d.readsAsGround(c), enough/2
	}
	if share < least {
		return 0
	}
	return share
}

// numbers returns the share of numbers without a sign between two values.
func (d *draft) numbers(c *profile, least, most float64) float64 {
	return c.share(func(text string) bool {
		v, _, ok := readNumber(text, d.table.Decimal)
		return ok && v >= least && v <= most
	})
}

// angle reports that a cell may be a longitude or a latitude, in degrees or with minutes.
func angle(text, decimal, meant string) bool {
	limit := map[string]float64{"lon": 180, "lat": 90}[meant]
	if v, unit, ok := readNumber(text, decimal); ok && unit == "" {
		return math.Abs(v) <= limit
	}
	first, second := text, "0"
	if meant == "lat" {
		first, second = "0", text
	}
	_, err := coord.ReadLonLatOn(coord.WGS84, first, second)
	return err == nil
}

// isMeasure reports a number, with or without a unit, or a word that stands for one.
func isMeasure(text, decimal string) bool {
	_, _, ok := readNumber(text, decimal)
	return ok || isOneOf(text, dryWords) || isOneOf(text, flowingWords)
}

// flags reports a column that says yes or no in figures.
func (p *profile) flags() bool {
	figures := []string{"0", "1", "0.0", "1.0"}
	return p.filled > 10 && len(p.times) <= 2 && p.share(func(text string) bool { return slices.Contains(figures, text) }) == 1
}

// readsAsGround returns the share of a column's texts that name a material.
func (d *draft) readsAsGround(c *profile) float64 {
	reader := soil.DefaultReader()
	n := 0
	few := c.sample[:min(len(c.sample), 200)]
	for _, text := range few {
		if reader.Read(text).Class != soil.Unknown {
			n++
		}
	}
	return float64(n) / float64(max(len(few), 1))
}

// fields writes the fields of the table from the columns taken.
func (d *draft) fields(list []names) {
	for _, meant := range meanings(d.kind) {
		name := fieldOf[d.kind][meant]
		c := d.taken[meant]
		if c == nil || name == "" {
			continue
		}
		if f, ok := d.field(c, meant, d.kind, name, list); ok {
			d.table.Fields[name] = f
		}
	}
	d.layersWithin(list)
}

// layersWithin makes layers of a table of bores that has their columns.
func (d *draft) layersWithin(list []names) {
	if d.kind != "bores" || d.taken["top"] == nil || d.taken["base"] == nil || d.taken["words"] == nil {
		return
	}
	part := Table{Kind: "layers", Fields: map[string]Field{}}
	for _, meant := range []string{"top", "base", "words"} {
		part.Fields[meant], _ = d.field(d.taken[meant], meant, "layers", meant, list)
	}
	d.table.Parts = append(d.table.Parts, part)
	d.note("propose.layers-within", "")
}

// field describes one column as a field; not ok when its cells leave a doubt.
func (d *draft) field(c *profile, meant, kind, name string, list []names) (Field, bool) {
	f := Field{Column: c.name}
	switch kinds[kind].fields[name] {
	case formLength, formLengths:
		f.Unit = d.unit(c, c.length, lengthUnits)
		d.zeros(c, meant, &f)
	case formRate:
		f.Unit = d.unit(c, c.rate, rateUnits)
		d.zeros(c, meant, &f)
	case formDate:
		if why := d.dates(c, &f); why != "" {
			d.drop(meant, why, firstOf(doubtful(c.sample)))
			return f, false
		}
		d.days(c, &f)
	case formChoice:
		values, unknown := valuesOf(c, meant, kind, name, list)
		return d.choices(c, meant, f, values, unknown)
	case formYesNo:
		values, unknown := valuesOf(c, meant, kind, name, list)
		return d.choices(c, meant, f, values, unknown)
	}
	return f, true
}

func firstOf(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}

// most is the share of cells that must be known words.
const most = 0.5

// choices takes a column of words when most of its cells are known ones.
func (d *draft) choices(c *profile, meant string, f Field, values map[string]string, unknown []string) (Field, bool) {
	values, unknown = d.judged(c, values, unknown)
	if !d.byHand && c.share(func(text string) bool { return !slices.Contains(unknown, text) }) < most {
		d.drop(meant, "propose.unknown-values", strings.Join(unknown[:min(len(unknown), 5)], "; "))
		return f, false
	}
	if len(unknown) > 0 {
		d.doubt(c, "propose.unknown-values", strings.Join(unknown[:min(len(unknown), 20)], "; "))
	}
	f.Values = values
	return f, true
}

// unit returns the unit of a column: its name's, or "cell" when most cells carry one.
func (d *draft) unit(c *profile, named string, units map[string]float64) string {
	if by := d.written(c); by != "" {
		return by
	}
	if named != "" {
		return named
	}
	own := c.share(func(text string) bool {
		_, unit, ok := readNumber(text, d.table.Decimal)
		_, known := units[unitName(unit)]
		return ok && known
	})
	if own >= enough {
		return "cell"
	}
	d.doubt(c, "propose.no-unit", c.name)
	return ""
}

// zeros looks for numbers that stand for "not known". A depth of nothing is none; whether
// a level or a yield of 0 is one, only a person can say.
func (d *draft) zeros(c *profile, meant string, f *Field) {
	for _, text := range []string{"0", "0.0", "0,0", "0.00", "0,00"} {
		if c.times[text] == 0 {
			continue
		}
		switch meant {
		case "depth", "strikes":
			f.Missing = append(f.Missing, text)
		case "level", "yield":
			d.zero(c, text, f)
		}
	}
	for _, text := range []string{"9999", "99999", "-999", "-9999"} { // no depth or yield is so
		if c.times[text] > 0 {
			f.Missing = append(f.Missing, text)
			d.doubt(c, "propose.placeholder", text)
		}
	}
}

// zero asks a person about a level or yield of 0, or does as they said.
func (d *draft) zero(c *profile, text string, f *Field) {
	d.asks(c, "zeros")
	if d.chosen.at(c.at).NoZeros {
		f.Missing = append(f.Missing, text)
		return
	}
	d.doubt(c, "propose.zeros", text)
}

// days leaves out the dates that stand for none, and tells a person of many on 1 January.
func (d *draft) days(c *profile, f *Field) {
	january := 0
	for _, text := range c.sample {
		day, ok := readDate(text, f.dateSpec())
		switch {
		case noDay(text, day):
			f.Missing = append(f.Missing, text)
			d.doubt(c, "propose.placeholder", text)
		case ok && day.Month == 1 && day.Day == 1:
			january += c.times[text]
		}
	}
	if january*10 <= c.filled {
		return
	}
	d.asks(c, "years")
	if d.chosen.at(c.at).Years {
		f.JanuaryFirst = "year"
		return
	}
	d.doubt(c, "propose.january", c.name)
}

// noDay tells the dates that programs write where there is none: the first day of their
// calendar.
func noDay(text string, day geo.Date) bool {
	return strings.HasPrefix(text, "0001-01-01") || day == geo.Date{Year: 1900, Month: 1, Day: 1} ||
		day == geo.Date{Year: 1899, Month: 12, Day: 30} || day == geo.Date{Year: 1899, Month: 12, Day: 31}
}

// complete takes back what a kind of record cannot be without, lends the day of
// completion to the level read then, and its key to a water point without a name.
func (d *draft) complete() {
	f := d.table.Fields
	if done, has := f["completed"]; d.kind == "bores" && has && f["level"].Column != "" && f["levelDate"].Column == "" {
		f["levelDate"] = done
		d.doubt(d.taken["completed"], "propose.level-day", done.Column)
	}
	if code := d.taken["code"]; d.kind == "water-points" && code != nil && f["name"].Column == "" {
		f["name"] = Field{Column: code.name}
	}
	for _, need := range kinds[d.kind].needs {
		if _, has := f[need]; !has {
			d.note("propose.lacks", need)
			d.kind, d.table.Kind = "", ""
			return
		}
	}
	if need := kinds[d.kind]; need.position && d.kind != "bores" && d.table.Position == nil {
		d.kind, d.table.Kind = "", ""
	}
}
