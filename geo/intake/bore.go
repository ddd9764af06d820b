package intake

import (
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// bore reads one row of a table of bores.
func (r *run) bore(c *cells) (bool, error) {
	id := recordID(r.mapping.Dataset, "bore", c.key)
	c.record = id.String()
	if _, twice := r.holes[id]; twice {
		c.reject(DuplicateRow, c.keyName(), c.key)
		return false, nil
	}
	b := geo.Bore{
		ID: geo.BoreID(c.record), Code: c.text("code"), Name: c.text("name"), Place: c.text("place"),
		Position: r.positionOf(c), Ground: c.ground(),
		Started: c.date("started"), Completed: c.date("completed"),
		Method: geo.Method(c.choice("method")), Outcome: geo.Outcome(c.choice("outcome")),
		DepthM: c.depth("depth"), RefusalM: c.depth("refusal"), YieldLPS: c.rate("yield"),
		Driller: c.text("driller"), Cost: c.cost(), Source: r.source(c),
	}
	for _, d := range c.depths("strikes") {
		b.Strikes = append(b.Strikes, geo.Strike{DepthM: d})
	}
	for _, i := range c.intervals("screens") {
		b.Pipes = append(b.Pipes, geo.Pipe{Kind: geo.Screen, TopM: i[0], BaseM: i[1]})
	}
	if l, ok := c.levelOf("level", "levelDate", "levelReference", b.DepthM); ok {
		b.Levels = append(b.Levels, l)
	}
	b.Remarks = c.withRemarks(c.text("remarks"))
	checked, err := geo.NewBore(b)
	if err != nil {
		c.reject(InvalidRecord, c.keyName(), err.Error())
		return false, nil
	}
	r.holes[id] = b.DepthM
	r.count.Bores++
	return true, r.sink.AddBore(c.key, checked)
}

// positionOf reads the position; a table that maps none says so for every bore.
func (r *run) positionOf(c *cells) geo.Opt[coord.Reading] {
	if c.table.place == nil {
		c.report(geo.Doubt, MissingPosition, "", "")
	}
	return c.position(r.mapping.Within)
}

func (c *cells) ground() geo.Opt[geo.Elevation] {
	m, ok := c.length("ground").Get()
	if !ok {
		return geo.Opt[geo.Elevation]{}
	}
	return geo.Some(geo.Elevation{M: m, Datum: c.text("groundDatum"), Source: c.text("groundSource")})
}

func (c *cells) cost() geo.Opt[geo.Money] {
	amount, ok := c.figure("cost").Get()
	if !ok {
		return geo.Opt[geo.Money]{}
	}
	return geo.Some(geo.Money{Amount: amount, Currency: c.text("currency")})
}

// withRemarks adds what stood as text in number columns.
func (c *cells) withRemarks(text string) string {
	for _, remark := range c.remarks {
		if text != "" {
			text += "; "
		}
		text += remark
	}
	return text
}

func (r *run) source(c *cells) geo.Provenance {
	return geo.Provenance{File: c.table.File, Row: c.number, By: r.mapping.By, Licence: r.mapping.Licence}
}
