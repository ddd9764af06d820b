package intake

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"waterstrike/geo"
)

// Chosen is what a person decided about files, over what their names and cells say: by the
// name of the table in [ProposedFile.File].
type Chosen map[string]ChosenTable

// ChosenTable is what was decided about one table. What is empty is left to the proposal.
type ChosenTable struct {
	Kind      string `json:"kind"` // of its records; "" leaves the table out
	Encoding  string `json:"encoding,omitempty"`
	Delimiter string `json:"delimiter,omitempty"`
	Decimal   string `json:"decimal,omitempty"`
	Grid      string `json:"grid,omitempty"`  // of east and north
	Datum     string `json:"datum,omitempty"` // of longitude and latitude
	// Columns are in the table's order: one more or less than it has are passed over. Without
	// any, their names and cells tell what they mean for that kind of record.
	Columns []ChosenColumn `json:"columns,omitempty"`
}

// ChosenColumn is what was decided about one column.
type ChosenColumn struct {
	Means   string            `json:"means,omitempty"`   // as [Meanings] lists it; "" leaves the column out
	Written string            `json:"written,omitempty"` // its unit, or the form of its dates
	Values  map[string]string `json:"values,omitempty"`  // text of a cell -> the code it stands for; "" for none
	NoZeros bool              `json:"noZeros,omitempty"` // 0 stands for "not known"
	Years   bool              `json:"years,omitempty"`   // 1 January stands for the year alone
}

// ProposeWith is [Propose] with what a person decided. A decimal mark that is none is a
// [geo.Invalid] error.
func ProposeWith(ctx context.Context, files fs.FS, names []string, chosen Chosen) (Mapping, Report, error) {
	for _, name := range slices.Sorted(maps.Keys(chosen)) {
		if err := oneOf("decimal", chosen[name].Decimal, "", ".", ","); err != nil {
			return Mapping{}, Report{}, geo.Fail(geo.Invalid, "intake.ProposeWith", geo.Message{}, fmt.Errorf("%s: %w", name, err))
		}
	}
	return propose(ctx, files, names, chosen)
}

// decided returns what a person decided about a table.
func (p *proposal) decided(t Table) (ChosenTable, bool) {
	c, is := p.chosen[t.Label()]
	return c, is
}

// choose gives the columns the meanings that a person chose. Where two were given one
// meaning the first has it, and the other says so.
func (d *draft) choose(p *proposal, found [][]match) {
	for i, c := range d.columns {
		switch meant := d.chosen.at(i).Means; {
		case meant == "":
			d.say(i, "", 0, "propose.by-hand-left", "")
		case !wanted(d.kind, meant):
			d.say(i, "", 0, "propose.not-of-kind", d.kind)
		case d.taken[meant] != nil:
			d.say(i, "", 0, "propose.other-column", d.taken[meant].name)
		default:
			d.taken[meant] = c
			fit, why := p.fit(d, c, meant), geo.Code("propose.by-hand")
			if fit > 0 && slices.ContainsFunc(found[i], func(m match) bool { return m.meant == meant }) {
				why = "propose.by-name"
			}
			d.say(i, meant, fit, why, meant)
			d.alsoName(i, c, found[i])
		}
	}
}

// alsoName lets a number that people call a name be both, as without a person's choice.
func (d *draft) alsoName(at int, c *profile, found []match) {
	named := slices.ContainsFunc(found, func(m match) bool { return m.meant == "name" })
	if d.chosen.at(at).Means == "code" && named && wanted(d.kind, "name") && !d.chosen.gives("name") {
		d.taken["name"] = c
	}
}

func (t ChosenTable) at(i int) ChosenColumn {
	if i < len(t.Columns) {
		return t.Columns[i]
	}
	return ChosenColumn{}
}

func (t ChosenTable) gives(meant string) bool {
	return slices.ContainsFunc(t.Columns, func(c ChosenColumn) bool { return c.Means == meant })
}

// written returns the unit or form that a person chose for a column.
func (d *draft) written(c *profile) string { return d.chosen.at(c.at).Written }

// judged puts what a person said of a column's texts over what is known of them.
func (d *draft) judged(c *profile, values map[string]string, unknown []string) (map[string]string, []string) {
	for text, code := range d.chosen.at(c.at).Values {
		if code == "" {
			continue
		}
		if values == nil {
			values = map[string]string{}
		}
		values[text] = code
		unknown = slices.DeleteFunc(unknown, func(u string) bool { return u == text })
	}
	return values, unknown
}
