package intake

import (
	"cmp"
	"slices"

	"waterstrike/geo"
)

// assign gives each thing that the kind of record has the column that says it best. Two
// columns that say it equally well are both left out.
func (p *proposal) assign(d *draft, found [][]match) {
	offers := p.offers(d, found)
	for _, meant := range meanings(d.kind) {
		o := offers[meant]
		switch {
		case len(o.at) == 0:
		case len(o.at) > 1 && meant != "code":
			for _, i := range o.at {
				d.say(i, "", o.likeness, "propose.two-columns", meant)
			}
		case !d.used(o.at[0], meant):
			d.taken[meant] = d.columns[o.at[0]]
			d.say(o.at[0], meant, o.likeness*o.fit, "propose.by-name", meant)
			p.speaks(o.languages)
		}
	}
	for i, c := range d.columns {
		d.leave(i, c, found[i])
	}
}

// offer is the columns that say one thing best: more than one where none does.
type offer struct {
	match
	fit float64
	at  []int // of keys, the one of most different texts first
}

func (p *proposal) offers(d *draft, found [][]match) map[string]offer {
	out := map[string]offer{}
	for i, c := range d.columns {
		for _, m := range found[i] {
			if d.kind == "villages" && m.meant == "name" { // a village has no name but that of its place
				m.meant, m.likeness = "place", 0.99*m.likeness
			}
			if c.filled == 0 || !wanted(d.kind, m.meant) {
				continue
			}
			fit, best := p.fit(d, c, m.meant), out[m.meant]
			switch {
			case fit == 0:
			case m.likeness > best.likeness:
				out[m.meant] = offer{m, fit, []int{i}}
			case m.likeness == best.likeness:
				best.at = append(best.at, i)
				out[m.meant] = best
			}
		}
	}
	slices.SortStableFunc(out["code"].at, func(a, b int) int { return cmp.Compare(d.columns[b].different(), d.columns[a].different()) })
	return out
}

func (p *proposal) speaks(languages []string) {
	slices.Sort(languages)
	for _, l := range slices.Compact(languages) {
		p.languages[l]++
	}
}

// used reports that a column is taken already; one of a date or a name may be twice.
func (d *draft) used(at int, meant string) bool {
	said, met := d.said[at]
	return met && said.Field != "" && !(meant == "name" && said.Field == "code")
}

// leave says why a column is left out.
func (d *draft) leave(at int, c *profile, found []match) {
	if _, said := d.said[at]; said {
		return
	}
	switch {
	case c.filled == 0:
		d.say(at, "", 0, "propose.empty-column", "")
	case len(found) == 0:
		d.say(at, "", 0, "propose.unknown-column", "")
	case !slices.ContainsFunc(found, func(m match) bool { return wanted(d.kind, m.meant) }):
		d.say(at, "", 0, "propose.not-of-kind", d.kind)
	case d.taken[found[0].meant] != nil:
		d.say(at, "", found[0].likeness, "propose.other-column", d.taken[found[0].meant].name)
	default:
		d.say(at, "", found[0].likeness, "propose.cells-differ", found[0].meant)
	}
}

func (d *draft) say(at int, field string, confidence float64, why geo.Code, value string) {
	d.said[at] = ProposedColumn{
		Column: d.columns[at].name, Field: field, Means: field, Confidence: confidence,
		Reason: geo.Say(why, geo.With("value", geo.Text(value))),
	}
}

// doubt adds to what is said of a column what is left to a person.
func (d *draft) doubt(c *profile, what geo.Code, value string) {
	said := d.said[c.at]
	said.Notes = append(said.Notes, geo.Say(what, geo.With("value", geo.Text(quote(value)))))
	d.said[c.at] = said
}

// asks notes that a person can say what a column's zeros or first days of a year stand for.
func (d *draft) asks(c *profile, what string) {
	said := d.said[c.at]
	if !slices.Contains(said.Asks, what) {
		said.Asks = append(said.Asks, what)
	}
	d.said[c.at] = said
}

// drop leaves out a column after all.
func (d *draft) drop(meant string, why geo.Code, value string) {
	c := d.taken[meant]
	delete(d.taken, meant)
	d.say(c.at, "", d.said[c.at].Confidence, why, quote(value))
	said := d.said[c.at]
	said.Means = meant
	d.said[c.at] = said
}
