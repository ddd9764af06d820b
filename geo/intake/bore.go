package intake

import (
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/google/uuid"
)

// boreRow reads one row of a table of bores, with its parts where the table has some.
func (r *run) boreRow(c *cells) (bool, error) {
	id := recordID(r.mapping.Dataset, "bore", c.key)
	c.record = id.String()
	_, twice := r.holes[id]
	if len(c.table.parts) == 0 {
		if twice {
			c.reject(DuplicateRow, c.keyName(), c.key)
			return false, nil
		}
		return r.bore(c, id)
	}
	if fresh, err := r.turnTo(c); !fresh || err != nil {
		return false, err
	}
	if !twice {
		if made, err := r.bore(c, id); !made || err != nil {
			return false, err
		}
	}
	if !c.carried {
		r.compareHead(c)
	}
	return r.boreParts(c, !twice)
}

// compareHead reports a row whose columns of the bore differ from those of the row
// before: perhaps two bores share a name. The first row's are kept.
func (r *run) compareHead(c *cells) {
	head := c.head()
	if r.headKey == c.key && r.head != head {
		c.report(geo.Doubt, RepeatDiffers, c.keyName(), c.key)
	}
	if r.headKey != c.key {
		r.headKey, r.head = c.key, head
	}
}

func (c *cells) head() string {
	texts := make([]string, len(c.table.head))
	for i, at := range c.table.head {
		texts[i] = c.row[at]
	}
	return strings.Join(texts, "\x1f")
}

// boreParts reads the parts that stand in the row of a bore. The row counts as applied
// when it made the bore or any part.
func (r *run) boreParts(c *cells, applied bool) (bool, error) {
	said := applied
	for _, t := range c.table.parts {
		p := &cells{table: t, row: c.row, number: c.number, key: c.key, record: c.record, blanked: c.blanked}
		if p.empty() {
			continue
		}
		said = true
		made, err := t.kind.apply(r, p)
		if err != nil {
			return false, err
		}
		if !made { // the group tells the issues of the rest
			c.issues = append(c.issues, p.issues...)
		}
		applied = applied || made
	}
	if !said {
		c.reject(DuplicateRow, c.keyName(), c.key)
	}
	return applied, nil
}

// empty reports that no column of the table says anything in this row.
func (c *cells) empty() bool {
	for _, f := range c.table.fields {
		if f.at >= 0 && c.cell(f) != "" {
			return false
		}
	}
	for _, f := range c.table.analytes {
		if c.cell(f) != "" {
			return false
		}
	}
	return true
}

func (r *run) bore(c *cells, id uuid.UUID) (bool, error) {
	b := geo.Bore{
		ID: geo.BoreID(c.record), Code: c.text("code"), Name: c.text("name"), Place: c.text("place"),
		Position: r.borePosition(c), Ground: c.ground(),
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

// borePosition reads the position of a bore. Without one, the village of that name is
// named where it is known.
func (r *run) borePosition(c *cells) geo.Opt[coord.Reading] {
	at := r.positionOf(c)
	if !at.Known() {
		r.suggest(c)
	}
	return at
}

// positionOf reads the position; a table that maps none says so for every record.
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
