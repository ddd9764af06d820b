package intake

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"waterstrike/geo"
)

// Report says what a proposed mapping rests on.
type Report struct {
	Files []ProposedFile `json:"files"`
}

// ProposedFile is what became of one file.
type ProposedFile struct {
	File    string           `json:"file"`
	Rows    int              `json:"rows"`           // looked at
	Kind    string           `json:"kind,omitempty"` // of its records; "" when nothing tells it
	Columns []ProposedColumn `json:"columns"`        // in the file's order
	// Notes are about the file: its key, its encoding, what it lacks.
	Notes []geo.Message `json:"notes"`

	Text     bool     `json:"text,omitempty"`     // it is a text: its encoding, delimiter and decimal mark may be chosen
	Encoding string   `json:"encoding,omitempty"` // as it was read
	Preview  []string `json:"preview,omitempty"`  // lines that another encoding would read otherwise
	Decimal  string   `json:"decimal,omitempty"`
	Grid     string   `json:"grid,omitempty"`   // of east and north
	Placed   string   `json:"placed,omitempty"` // "lon-lat", "projected": how it says where its records lie
}

// ProposedColumn is what became of one column: the field it is taken for, "" when it is
// left out, and why. Confidence, 0 to 1, is how far its name is that of the field, times the
// share of its cells that read as such; a rank, not a chance.
type ProposedColumn struct {
	Column     string        `json:"column"`
	Field      string        `json:"field,omitempty"`
	Confidence float64       `json:"confidence"`
	Reason     geo.Message   `json:"reason"`
	Notes      []geo.Message `json:"notes,omitempty"` // what is left to a person

	Means   string          `json:"means,omitempty"`   // Field, or what it would be if what is left to a person were settled
	Samples []string        `json:"samples,omitempty"` // its first different texts
	Form    string          `json:"form,omitempty"`    // of a field that a person may say more about: FormLength and so on
	Written string          `json:"written,omitempty"` // its unit, or the form of its dates; "" where nothing tells it
	Values  []ProposedValue `json:"values,omitempty"`  // of a column of words, its first texts
	Codes   []string        `json:"codes,omitempty"`   // what these may stand for
	Asks    []string        `json:"asks,omitempty"`    // "zeros", "years": what else a person may say of it
}

// Propose looks at files and proposes how they become records: what each column is, by its
// name in three languages and by what stands in it; units, dates, marks for what is
// missing; the key of each file and which file belongs to which. What is not certain is
// left out and listed in the report, never guessed. An error is [geo.Invalid] where a file
// cannot be read, or none holds anything known.
//
// A unit that neither a name nor a cell tells is left empty: the mapping then loads only
// when lengths or yields say it for the whole data set, or the field for itself.
func Propose(ctx context.Context, files fs.FS, names []string) (Mapping, Report, error) {
	return propose(ctx, files, names, nil)
}

func propose(ctx context.Context, files fs.FS, names []string, chosen Chosen) (Mapping, Report, error) {
	list, err := columnNames()
	if err != nil {
		return Mapping{}, Report{}, geo.Fail(geo.Internal, "intake.Propose", geo.Message{}, err)
	}
	p := &proposal{names: list, languages: map[string]int{}, chosen: chosen}
	for _, name := range names {
		if err := p.look(ctx, files, name); err != nil {
			return Mapping{}, Report{}, geo.Fail(geo.Invalid, "intake.Propose", geo.Message{}, fmt.Errorf("%s cannot be opened: %w", name, err))
		}
	}
	p.keys()
	for _, d := range p.drafts {
		d.show()
	}
	m := Mapping{Dataset: datasetOf(names), Language: p.language()}
	var r Report
	for _, d := range p.drafts {
		if d.kind != "" {
			m.Tables = append(m.Tables, d.table)
		}
		r.Files = append(r.Files, d.report())
	}
	m.Name = m.Dataset
	if len(m.Tables) == 0 {
		return m, r, geo.Fail(geo.Invalid, "intake.Propose", geo.Message{}, fmt.Errorf("no file of %s holds columns that are known", strings.Join(names, ", ")))
	}
	return m, r, nil
}

// proposal is a mapping in the making.
type proposal struct {
	names     []names
	drafts    []*draft
	languages map[string]int // names found, by language
	chosen    Chosen
}

// draft is the table of one file in the making.
type draft struct {
	looked
	table Table
	kind  string
	taken map[string]*profile // by what it is taken for, such as "depth"
	said  map[int]ProposedColumn
	notes []geo.Message

	chosen ChosenTable // what a person decided
	byHand bool        // a person chose the columns
}

// look drafts the tables of one file, each of its sheets or layers.
func (p *proposal) look(ctx context.Context, files fs.FS, name string) error {
	tables, err := tablesOf(files, name)
	if err != nil {
		return err
	}
	for _, t := range tables {
		by, _ := p.decided(t)
		t.Encoding, t.Delimiter = by.Encoding, by.Delimiter
		l, err := lookAt(ctx, files, t)
		if errors.Is(err, errEmpty) && len(tables) > 1 {
			continue // an empty sheet beside others
		}
		if err != nil {
			return err
		}
		p.drafts = append(p.drafts, p.draft(l))
	}
	return nil
}

// language returns the language of most names found.
func (p *proposal) language() string {
	best := ""
	for _, l := range []string{"en", "fr", "pt"} {
		if p.languages[l] > p.languages[best] {
			best = l
		}
	}
	return best
}

// datasetOf names a data set by its folder, or its first file.
func datasetOf(names []string) string {
	if len(names) == 0 {
		return ""
	}
	first := names[0]
	name := path.Base(path.Dir(first))
	if name == "." || name == "/" {
		name = strings.TrimSuffix(path.Base(first), path.Ext(first))
	}
	return strings.Join(wordsOf(name), "-")
}

// draft takes each column for what its name and its cells agree on, and the file for the
// kind of record that those columns make.
func (p *proposal) draft(l looked) *draft {
	d := &draft{looked: l, taken: map[string]*profile{}, said: map[int]ProposedColumn{}}
	d.table = Table{File: l.file, Sheet: l.sheet, Missing: l.missing, Fields: map[string]Field{}}
	if l.rows == 0 {
		d.note("propose.no-rows", "")
		return d
	}
	found := p.found(l)
	d.kind = kindOf(found)
	if by, decided := p.decided(d.table); decided {
		d.kind, d.chosen, d.byHand = by.Kind, by, len(by.Columns) > 0
	}
	d.table.Kind = d.kind
	if l.text {
		d.table.Delimiter, d.table.Encoding = l.how.Delimiter, l.how.Encoding
		if l.how.Guessed {
			d.note("propose.encoding", l.how.Encoding)
		}
	}
	if d.kind == "" {
		d.note("propose.no-kind", "")
		return d
	}
	d.decimals(found)
	if d.byHand {
		d.choose(p, found)
	} else {
		p.assign(d, found)
	}
	d.place()
	d.fields(p.names)
	d.complete()
	return d
}

func (d *draft) note(code geo.Code, value string) {
	d.notes = append(d.notes, geo.Say(code, geo.With("value", geo.Text(value))))
}

// found lists what each column may mean, by its name alone.
func (p *proposal) found(l looked) [][]match {
	out := make([][]match, len(l.columns))
	for i, c := range l.columns {
		out[i] = c.matches(p.names)
	}
	return out
}

// decimals settles the decimal mark of a file.
func (d *draft) decimals(found [][]match) {
	var columns []*profile
	for i, c := range d.columns {
		if isNumber[d.chosen.at(i).Means] || slices.ContainsFunc(found[i], func(m match) bool { return isNumber[m.meant] }) {
			columns = append(columns, c)
		}
	}
	decimal, settled := decimalOf(columns)
	if d.chosen.Decimal != "" {
		decimal, settled = d.chosen.Decimal, true
	}
	if !settled {
		d.note("propose.decimals-mixed", "")
	}
	d.table.Decimal = decimal
}

// isNumber names the columns whose cells are numbers.
var isNumber = map[string]bool{
	"lon": true, "lat": true, "east": true, "north": true, "ground": true, "depth": true, "refusal": true, "level": true,
	"reference": true, "yield": true, "top": true, "base": true, "people": true, "users": true, "diameter": true,
}

func (d *draft) report() ProposedFile {
	out := ProposedFile{File: Table{File: d.file, Sheet: d.sheet}.Label(), Rows: d.rows, Kind: d.kind, Notes: d.notes}
	if d.text {
		out.Text, out.Encoding, out.Preview, out.Decimal = true, d.how.Encoding, d.how.Preview, d.table.Decimal
	}
	if at := d.table.Position; at != nil {
		out.Placed, out.Grid = at.Kind, at.CRS
	}
	for i := range d.columns {
		if said, ok := d.said[i]; ok {
			out.Columns = append(out.Columns, said)
		}
	}
	return out
}
