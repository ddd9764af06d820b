package intake

import "slices"

// maxShown bounds the texts of a column that a report repeats, and maxWords those that a
// person is asked about.
const (
	maxShown = 4
	maxAsked = 40
)

// ProposedValue is one text of a column of words, and the code that it stands for; "" where
// nobody knows.
type ProposedValue struct {
	Text string `json:"text"`
	N    int    `json:"n"`
	Code string `json:"code,omitempty"`
}

// show adds to what is said of each column what a person needs to judge it.
func (d *draft) show() {
	for i, c := range d.columns {
		said, met := d.said[i]
		if !met {
			continue
		}
		for _, text := range c.sample[:min(len(c.sample), maxShown)] {
			said.Samples = append(said.Samples, quote(text))
		}
		d.showField(c, &said)
		d.said[i] = said
	}
}

// showField tells how the cells of a column that was taken are read.
func (d *draft) showField(c *profile, said *ProposedColumn) {
	kind, name := d.kind, fieldOf[d.kind][said.Means]
	if slices.Contains([]string{"top", "base"}, said.Means) && d.kind == "bores" {
		kind, name = "layers", said.Means
	}
	f := d.table.Fields[name]
	if kind != d.kind && len(d.table.Parts) > 0 {
		f = d.table.Parts[0].Fields[name]
	}
	switch kinds[kind].fields[name] {
	case formLength, formLengths:
		said.Form, said.Written = FormLength, f.Unit
	case formRate:
		said.Form, said.Written = FormRate, f.Unit
	case formDate:
		said.Form, said.Written = FormDate, writtenAs(f)
	case formChoice, formYesNo:
		said.Form = FormWords
		said.Codes = codesOf(kind, name)
		for _, text := range c.sample[:min(len(c.sample), maxAsked)] {
			code := f.Values[text]
			if f.Values == nil {
				code = text // the codes themselves
			}
			said.Values = append(said.Values, ProposedValue{text, max(c.times[text], 1), code})
		}
	}
}

// writtenAs is how the dates of a field are written, as DateForms lists it; "" where they
// are written in several ways.
func writtenAs(f Field) string {
	switch {
	case f.Column == "" || len(f.Dates) > 1:
		return ""
	case len(f.Dates) == 0:
		return "iso"
	case f.YearsFrom == shortFrom:
		return f.Dates[0] + shortYears
	}
	return f.Dates[0]
}

// The forms of columns that a person may say more about.
const (
	FormLength = "length"
	FormRate   = "rate"
	FormDate   = "date"
	FormWords  = "words"
)

// codesOf lists what the texts of a column may stand for.
func codesOf(kind, field string) []string {
	switch {
	case kinds[kind].fields[field] == formYesNo:
		return []string{"yes", "no"}
	case field == "method":
		return namedMethods()
	}
	return choices(kind, field)
}

// namedMethods lists the methods that names.txt knows words for.
func namedMethods() []string {
	list, err := columnNames()
	if err != nil {
		return nil // the proposal itself told it
	}
	var out []string
	for _, n := range list {
		if n.meant == "method" && n.value != "" {
			out = append(out, n.value)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Open is what a person has to say before files can be read: the columns whose unit nothing
// tells, by the name of their table.
func (r Report) Open() map[string][]string {
	out := map[string][]string{}
	for _, f := range r.Files {
		for _, c := range f.Columns {
			if f.Kind != "" && c.Field != "" && c.Written == "" && (c.Form == FormLength || c.Form == FormRate) {
				out[f.File] = append(out[f.File], c.Column)
			}
		}
	}
	return out
}
