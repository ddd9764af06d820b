package intake

import (
	"cmp"

	"waterstrike/geo"
)

// almost is the share of different texts that makes a key: a few rows may stand twice.
const almost = 0.9

// contained is the share of a file's keys that must stand in the other's.
const contained = 0.9

// keys finds the columns that tell one record from another, and those by which one file
// belongs to another.
func (p *proposal) keys() {
	for _, d := range p.drafts {
		if d.kind == "bores" {
			p.boreKey(d)
		}
	}
	for _, d := range p.drafts {
		switch {
		case d.kind == "" || d.kind == "bores":
		case kinds[d.kind].part:
			p.partKey(d)
		default:
			d.ownKey()
		}
	}
}

// boreKey takes the column that a person chose, the one that other files refer to, or else
// the file's own.
func (p *proposal) boreKey(d *draft) {
	if d.byHand && d.taken["code"] != nil {
		d.ownKey()
		return
	}
	for _, other := range p.drafts {
		if !kinds[other.kind].part {
			continue
		}
		if own, _ := joined(d, other); own != nil {
			d.setKey("propose.key-contained", own)
			d.note("propose.joined", other.table.Label())
			return
		}
	}
	d.ownKey()
}

// joined finds the columns by which a file of parts belongs to a file of bores: of those
// whose texts stand in a column of different texts there, the one that fits best.
func joined(bores, parts *draft) (own, theirs *profile) {
	best := 0.0
	for _, c := range parts.columns {
		for _, o := range bores.columns {
			if o.filled*10 < bores.rows*9 || len(bores.table.Parts) == 0 && o.different() < almost || !isCode(o, c) {
				continue
			}
			share := c.within(o) * o.different()
			if o.name == c.name {
				share += 0.1
			}
			if c.within(o) >= contained && share > best {
				best, own, theirs = share, o, c
			}
		}
	}
	return own, theirs
}

// isCode keeps measures and dates from passing as keys: a key's name says that it is one,
// or both files call it the same.
func isCode(own, theirs *profile) bool {
	return own.name == theirs.name && own.length == "" || own.namesCode() && theirs.namesCode()
}

func (p *profile) namesCode() bool {
	for _, w := range p.words {
		switch w {
		case "id", "no", "code", "number", "numero", "codigo", "identifiant", "identificador", "bore", "forage", "furo", "point", "ponto":
			return true
		}
	}
	return false
}

func (p *proposal) partKey(d *draft) {
	if code := d.taken["code"]; d.byHand && code != nil {
		d.setKey("propose.key", code)
		return
	}
	for _, bores := range p.drafts {
		if bores.kind != "bores" || len(bores.table.Key) != 1 {
			continue
		}
		for _, o := range bores.columns {
			if o.name != bores.table.Key[0] {
				continue
			}
			best, share := (*profile)(nil), contained
			for _, c := range d.columns {
				if s := c.within(o); isCode(o, c) && s >= share {
					best, share = c, s
				}
			}
			if best != nil {
				d.setKey("propose.key-contained", best)
				d.note("propose.joined", bores.table.Label())
				return
			}
		}
	}
	d.note("propose.no-parent", "")
	d.kind, d.table.Kind = "", ""
}

// ownKey takes the column named as a key whose texts differ from row to row; where rows
// of one record repeat it, any column named so; else the position, which villages of other
// names may share; else the whole row.
func (d *draft) ownKey() {
	repeats := d.kind == "water-points" || len(d.table.Parts) > 0
	for _, meant := range []string{"code", "place", "name"} {
		c := d.taken[meant]
		if c == nil || meant != "code" && d.kind == "bores" {
			continue
		}
		if c.filled*10 >= d.rows*9 && (repeats || c.different() >= almost) {
			d.setKey("propose.key", c)
			if c.filled < d.rows {
				d.table.NoKey = "whole-row"
				d.note("propose.key-missing", c.name)
			}
			return
		}
	}
	if at := d.table.Position; at != nil {
		d.table.Key = []string{at.Lon + at.East, at.Lat + at.North}
		d.table.NoKey = "whole-row"
		if name := cmp.Or(d.taken["name"], d.taken["place"]); d.kind == "villages" && name != nil {
			d.table.Key = append([]string{name.name}, d.table.Key...)
			d.note("propose.key-name-position", "")
			return
		}
		d.note("propose.key-position", "")
		return
	}
	d.table.NoKey, d.table.Key = "whole-row", []string{}
	d.note("propose.key-row", "")
}

func (d *draft) setKey(why geo.Code, c *profile) {
	d.table.Key = []string{c.name}
	d.note(why, c.name)
}
