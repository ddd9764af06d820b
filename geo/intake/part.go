package intake

import (
	"cmp"

	"waterstrike/geo"
)

// needs returns the depth of a required field, or rejects the row for want of it.
func (c *cells) needs(field string) (float64, bool) {
	v, ok := c.depth(field).Get()
	if !ok && c.text(field) == "" {
		c.reject(MissingValue, c.table.fields[field].name, "")
	}
	return v, ok
}

// interval reads the top and base of a part. A row without both cannot be a record.
func (c *cells) interval() (top, base float64, ok bool) {
	top, okTop := c.needs("top")
	base, okBase := c.needs("base")
	if okTop && okBase && top >= base {
		c.reject(LayerUpsideDown, c.table.fields["base"].name, c.text("top")+" – "+c.text("base"))
		return 0, 0, false
	}
	return top, base, okTop && okBase
}

func (r *run) layer(c *cells) (bool, error) {
	top, base, ok := c.interval()
	words := c.text("words")
	if ok && words == "" {
		c.reject(NoDescription, c.table.fields["words"].name, c.text("top")+" – "+c.text("base"))
	}
	if !ok || words == "" {
		return false, nil
	}
	reading := r.resolve(c.key, top, base, r.read(words))
	c.judgeWords(reading, words)
	minutes := c.figure("minutesPerM")
	if minutes.Or(1) == 0 {
		c.report(geo.Rejected, BadNumber, c.table.fields["minutesPerM"].name, c.text("minutesPerM"))
		minutes = geo.Opt[float64]{}
	}
	l := geo.Layer{
		TopM: top, BaseM: base, Words: words, Class: reading.Class, Grade: reading.Grade,
		Clayey: reading.Clayey, Confidence: reading.Confidence, MinutesPerM: minutes,
		Colour: cmp.Or(c.text("colour"), reading.Colour), Hardness: cmp.Or(c.text("hardness"), reading.Hardness),
	}
	return r.part(c, append([]any{l}, r.strikes(c, l, reading)...)...)
}

func (r *run) levelRow(c *cells) (bool, error) {
	hole := r.holes[recordID(r.mapping.Dataset, "bore", c.key)]
	l, ok := c.levelOf("level", "date", "reference", hole)
	if !ok {
		if c.text("level") == "" {
			c.reject(MissingValue, c.table.fields["level"].name, "")
		}
		return false, nil
	}
	return r.part(c, l)
}

func (r *run) strike(c *cells) (bool, error) {
	depth, ok := c.needs("depth")
	if !ok {
		return false, nil
	}
	return r.part(c, geo.Strike{DepthM: depth, Words: c.text("words")})
}

func (r *run) pipe(c *cells) (bool, error) {
	kind, okKind := c.needsChoice("kind")
	top, base, ok := c.interval()
	if !okKind || !ok {
		return false, nil
	}
	return r.part(c, geo.Pipe{
		Kind: geo.PipeKind(kind), TopM: top, BaseM: base,
		DiameterMM: millimetres(c.depth("diameter")), SlotMM: millimetres(c.depth("slot")), Material: c.text("material"),
	})
}

func millimetres(m geo.Opt[float64]) geo.Opt[float64] {
	v, ok := m.Get()
	if !ok {
		return m
	}
	return geo.Some(v * 1000)
}

func (r *run) fill(c *cells) (bool, error) {
	kind, okKind := c.needsChoice("kind")
	top, base, ok := c.interval()
	if !okKind || !ok {
		return false, nil
	}
	return r.part(c, geo.Fill{Kind: geo.FillKind(kind), TopM: top, BaseM: base})
}

func (r *run) test(c *cells) (bool, error) {
	kind, ok := c.needsChoice("kind")
	if !ok {
		return false, nil
	}
	t := geo.PumpTest{
		Kind: geo.TestKind(kind), On: c.date("date"), RateLPS: c.rate("rate"), Hours: c.figure("hours"),
		RestM: c.depth("rest"), PumpingM: c.depth("pumping"), BailL: c.figure("bail"),
		HalfMin: c.figure("halfMinutes"), ThreeQMin: c.figure("threeQuarterMinutes"),
	}
	t.Remarks = c.withRemarks(c.text("remarks"))
	return r.part(c, t)
}

// needsChoice returns the code of a required field, or rejects the row for want of it.
func (c *cells) needsChoice(field string) (string, bool) {
	code := c.choice(field)
	if code == "" && c.text(field) == "" {
		c.reject(MissingValue, c.table.fields[field].name, "")
	}
	return code, code != ""
}
