package intake

import (
	"math"
	"regexp"
	"strings"

	"waterstrike/geo"
)

// The largest values that a record may hold; geo checks the same when it makes one.
const (
	maxDepthM   = 5000
	maxRiseM    = 100
	maxYieldLPS = 1000
	maxCount    = 1_000_000 // people of one village or point: common practice, no source
)

// figure reads a plain number that is not negative.
func (c *cells) figure(name string) geo.Opt[float64] {
	text := c.text(name)
	if text == "" {
		return geo.Opt[float64]{}
	}
	f := c.table.fields[name]
	v, unit, ok := readNumber(text, f.decimal)
	if !ok || unit != "" || v < 0 {
		c.notANumber(f, text)
		return geo.Opt[float64]{}
	}
	return geo.Some(v)
}

// inGroups is a whole number in groups of three by marks that another language takes for
// the decimal mark: of people and wells nobody writes a thousandth.
var inGroups = regexp.MustCompile(`^\d{1,3}(?:[.,’']\d{3})+$`)

// count reads a whole number that is not negative: how many people or wells there are.
func (c *cells) count(name string) geo.Opt[int] {
	text := c.text(name)
	if text == "" {
		return geo.Opt[int]{}
	}
	f := c.table.fields[name]
	if inGroups.MatchString(text) {
		text = strings.NewReplacer(".", "", ",", "", "’", "", "'", "").Replace(text)
	}
	v, unit, ok := readNumber(text, f.decimal)
	switch {
	case !ok || unit != "":
		c.notANumber(f, text)
	case v < 0:
		c.report(geo.Rejected, NegativeCount, f.name, text)
	case v != math.Trunc(v):
		c.report(geo.Rejected, BrokenCount, f.name, text)
	case v > maxCount:
		c.report(geo.Rejected, CountOutOfRange, f.name, text)
	default:
		return geo.Some(int(v))
	}
	return geo.Opt[int]{}
}

// notANumber reports a cell: text without a digit is kept as a remark where the record
// has room for one.
func (c *cells) notANumber(f *column, text string) {
	if !hasDigit(text) && c.table.kind.remarks {
		c.remarks = append(c.remarks, f.name+": "+text)
		c.report(geo.Rejected, TextInNumber, f.name, text)
		return
	}
	c.report(geo.Rejected, BadNumber, f.name, text)
}

// quantity reads a number with its unit, in the base unit of units.
func (c *cells) quantity(f *column, text string, units map[string]float64) (float64, bool) {
	v, unit, ok := readNumber(text, f.decimal)
	if !ok {
		c.notANumber(f, text)
		return 0, false
	}
	if unit == "" && f.unitAt >= 0 {
		unit = c.valid(f.unitAt)
	}
	if unit == "" && f.Unit != "cell" {
		unit = f.Unit
	}
	factor, known := units[unitName(unit)]
	if !known {
		c.report(geo.Rejected, UnknownUnit, f.name, text)
		return 0, false
	}
	return v * factor, true
}

// length reads a length in metres, of any sign.
func (c *cells) length(name string) geo.Opt[float64] {
	text := c.text(name)
	if text == "" {
		return geo.Opt[float64]{}
	}
	if v, ok := c.quantity(c.table.fields[name], text, lengthUnits); ok {
		return geo.Some(v)
	}
	return geo.Opt[float64]{}
}

// depth reads a depth below ground.
func (c *cells) depth(name string) geo.Opt[float64] {
	v, ok := c.length(name).Get()
	if !ok || !c.depthInRange(c.table.fields[name], v, c.text(name)) {
		return geo.Opt[float64]{}
	}
	return geo.Some(v)
}

func (c *cells) depthInRange(f *column, v float64, read string) bool {
	switch {
	case v < 0:
		c.report(geo.Rejected, NegativeDepth, f.name, read)
		return false
	case v > maxDepthM:
		c.report(geo.Rejected, DepthOutOfRange, f.name, read)
		return false
	}
	c.doubtAbove(f, v, read, DepthOutOfRange)
	return true
}

func (c *cells) doubtAbove(f *column, v float64, read string, code geo.Code) {
	if f.Max > 0 && v > f.Max {
		c.report(geo.Doubt, code, f.name, read)
	}
}

// rate reads a yield in litres per second.
func (c *cells) rate(name string) geo.Opt[float64] {
	text := c.text(name)
	if text == "" {
		return geo.Opt[float64]{}
	}
	f := c.table.fields[name]
	v, ok := c.quantity(f, text, rateUnits)
	if !ok {
		return geo.Opt[float64]{}
	}
	if v < 0 || v >= maxYieldLPS {
		c.report(geo.Rejected, YieldOutOfRange, f.name, text)
		return geo.Opt[float64]{}
	}
	c.doubtAbove(f, v, text, YieldOutOfRange)
	return geo.Some(v)
}

// depths reads several depths from one cell; one that cannot be read leaves them all out.
func (c *cells) depths(name string) []float64 {
	text := c.text(name)
	if text == "" {
		return nil
	}
	f := c.table.fields[name]
	var out []float64
	for _, part := range splitList(text, f.decimal) {
		v, ok := c.quantity(f, part, lengthUnits)
		if !ok || !c.depthInRange(f, v, part) {
			return nil
		}
		out = append(out, v)
	}
	return out
}

// intervals reads several depth intervals from one cell, all or none.
func (c *cells) intervals(name string) [][2]float64 {
	text := c.text(name)
	if text == "" {
		return nil
	}
	f := c.table.fields[name]
	list, ok := readIntervals(text, f.decimal)
	if !ok {
		c.notANumber(f, text)
		return nil
	}
	factor := lengthUnits[unitName(f.Unit)]
	for i := range list {
		list[i][0] *= factor
		list[i][1] *= factor
		if !c.depthInRange(f, list[i][1], text) {
			return nil
		}
		if list[i][0] >= list[i][1] {
			c.report(geo.Rejected, LayerUpsideDown, f.name, text)
			return nil
		}
	}
	return list
}
