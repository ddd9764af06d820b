package server

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
	"waterstrike/ui/say"
)

// matchingView is what the columns of files are taken for, to be corrected.
type matchingView struct {
	Heading, Lead   string
	Action          string
	Dataset, Office fieldView
	Given           string // said where a mapping file decides
	Former          string // said where files of these names came before
	Tables          []tableView
	Look, Read      string // words of the buttons; no Look where there is nothing to change
	Keep            *linkView
	Open            string // said where something is still to be told
}

// tableView is one table of the files.
type tableView struct {
	ID          string
	Name, Rows  string
	Kind        fieldView
	Was         string // the kind that is shown
	Notes       []string
	Preview     []string // lines that another encoding would read otherwise
	PreviewHead string
	Written     []fieldView // encoding, decimal mark, grid, datum
	WrittenHead string
	Heads       []string // of the columns of the list
	Columns     []columnView
}

// columnView is one column of a table.
type columnView struct {
	Name      string
	Samples   []string
	Means     fieldView
	Written   *fieldView
	Asks      []fieldView
	Words     []fieldView // one for each text, Name "value…"
	WordsOf   string      // the line that opens them
	Notes     []string
	State     string // "taken", "left" or "open"
	StateSaid string
}

// matching shows what was proposed, with what a person decided so far.
func (s speaker) matching(a arrival.Arrival) *matchingView {
	m := &matchingView{
		Heading: s.Say("intake.match"), Lead: s.Say("intake.match.lead"), Action: intakePath + "/" + a.ID + "/match", Read: s.Say("intake.read"),
		Dataset: fieldView{
			ID: "dataset", Name: "dataset", Label: s.Say("intake.dataset"), Hint: s.Say("intake.dataset.hint"), Type: "text",
			Value: a.Decided.Dataset, Complete: "off", Capitals: "off", Max: maxText,
		},
		Office: fieldView{
			ID: "office", Name: "office", Label: s.Say("intake.office"), Hint: s.Say("intake.office.hint"), Type: "text",
			Value: a.Decided.Office, Complete: "organization", Capitals: "words", Max: maxText, Optional: true,
		},
	}
	if len(a.Mapping.Tables) > 0 {
		m.Keep = &linkView{Name: s.Say("intake.keep-mapping"), Href: intakePath + "/" + a.ID + "/mapping.json", Aside: s.Say("intake.keep-mapping.why")}
	}
	if a.Given != "" {
		m.Lead, m.Given = "", s.Say("intake.given", say.With("file", say.Text(a.Given)))
		m.Dataset.Type, m.Office.Type = "hidden", "hidden"
		return m
	}
	if a.Former != "" {
		m.Former = s.Say("intake.came-before", say.With("value", say.Text(a.Former)))
	}
	m.Look = s.Say("intake.look-again")
	if len(a.Lacks()) > 0 {
		m.Open = s.Say("intake.open")
	}
	for i, f := range a.Report.Files {
		m.Tables = append(m.Tables, s.tableView(strconv.Itoa(i), f, a.Decided.Chosen[f.File]))
	}
	return m
}

func (s speaker) tableView(id string, f intake.ProposedFile, decided intake.ChosenTable) tableView {
	t := tableView{
		ID: id, Name: f.File, Was: f.Kind, Rows: s.Say("intake.rows", say.With("n", say.Count(f.Rows))),
		Kind:  fieldView{ID: "kind." + id, Name: "kind." + id, Label: s.Say("intake.kind"), Type: "select"},
		Heads: []string{s.Say("intake.column"), s.Say("intake.means"), s.Say("intake.why")},
	}
	t.Kind.add("", s.Say("intake.left-out"), f.Kind)
	for _, k := range intake.Kinds() {
		t.Kind.add(k, s.Say("kind."+k), f.Kind)
	}
	for _, n := range f.Notes {
		t.Notes = append(t.Notes, s.tell(n))
	}
	t.WrittenHead = s.Say("intake.how-written")
	if f.Text {
		t.Written = append(t.Written, s.encodings(id, f), s.decimals(id, f))
	}
	if len(f.Preview) > 0 {
		t.PreviewHead, t.Preview = s.Say("intake.preview"), f.Preview
	}
	if f.Kind == "" {
		return t
	}
	t.Written = append(t.Written, s.placed(id, f, decided)...)
	for i, c := range f.Columns {
		t.Columns = append(t.Columns, s.columnView(id+"."+strconv.Itoa(i), f.Kind, c, decided, i))
	}
	return t
}

// add adds a choice to a select.
func (f *fieldView) add(value, name, chosen string) {
	f.Choices = append(f.Choices, choiceView{Value: value, Name: name, Chosen: value == chosen})
}

func (s speaker) encodings(id string, f intake.ProposedFile) fieldView {
	v := fieldView{ID: "encoding." + id, Name: "encoding." + id, Label: s.Say("intake.encoding"), Type: "select"}
	for _, name := range intake.Encodings() {
		v.add(name, name, f.Encoding)
	}
	return v
}

func (s speaker) decimals(id string, f intake.ProposedFile) fieldView {
	v := fieldView{ID: "decimal." + id, Name: "decimal." + id, Label: s.Say("intake.decimal"), Type: "select"}
	v.add(".", s.Say("intake.decimal.point"), decimalOf(f))
	v.add(",", s.Say("intake.decimal.comma"), decimalOf(f))
	return v
}

// decimalOf is the decimal mark that a table was read by.
func decimalOf(f intake.ProposedFile) string { return cmp.Or(f.Decimal, ".") }

// placed asks for the grid or datum of the positions.
func (s speaker) placed(id string, f intake.ProposedFile, decided intake.ChosenTable) []fieldView {
	grid := fieldView{
		ID: "grid." + id, Name: "grid." + id, Label: s.Say("intake.grid"), Hint: s.Say("intake.grid.hint"), Type: "text",
		Value: decided.Grid, Complete: "off", Capitals: "off", Max: maxText, Optional: true,
	}
	datum := fieldView{
		ID: "datum." + id, Name: "datum." + id, Label: s.Say("intake.datum"), Hint: s.Say("intake.datum.hint"), Type: "text",
		Value: decided.Datum, Complete: "off", Capitals: "off", Max: maxText, Optional: true,
	}
	has := func(meant string) bool {
		return slices.ContainsFunc(f.Columns, func(c intake.ProposedColumn) bool { return c.Means == meant })
	}
	switch {
	case has("east"):
		return []fieldView{grid}
	case has("lon"):
		return []fieldView{datum}
	}
	return nil
}

func (s speaker) columnView(id, kind string, c intake.ProposedColumn, decided intake.ChosenTable, at int) columnView {
	v := columnView{
		Name: c.Column, Samples: c.Samples, State: "left",
		Means: fieldView{ID: "means." + id, Name: "means." + id, Label: s.Say("intake.means-of", say.With("field", say.Text(c.Column))), Type: "select"},
	}
	v.Means.add("", s.Say("intake.left-out"), c.Means)
	for _, meant := range intake.Meanings(kind) {
		v.Means.add(meant, s.Say("column."+meant), c.Means)
	}
	v.Written = s.writtenField(id, c)
	var chosen intake.ChosenColumn
	if at < len(decided.Columns) {
		chosen = decided.Columns[at]
	}
	for _, what := range c.Asks {
		v.Asks = append(v.Asks, fieldView{
			ID: what + "." + id, Name: what + "." + id, Label: s.Say("intake.asks." + what), Type: "checkbox", Value: "yes", Optional: true,
			Checked: what == "zeros" && chosen.NoZeros || what == "years" && chosen.Years,
		})
	}
	s.wordFields(&v, id, c)
	s.reasons(&v, c)
	return v
}

// reasons says why a column is taken for what it is, and what is left to a person.
func (s speaker) reasons(v *columnView, c intake.ProposedColumn) {
	open := c.Field != "" && c.Written == "" && (c.Form == intake.FormLength || c.Form == intake.FormRate)
	switch {
	case open:
		v.State = "open"
		v.StateSaid = s.Say("intake.state.open")
	case c.Reason.Code == "propose.by-hand":
		v.State, v.StateSaid = "taken", s.Say("intake.state.by-hand", say.With("n", say.Count(int(math.Round(100*c.Confidence)))))
	case c.Field != "":
		v.State = "taken"
		v.StateSaid = s.Say("intake.state.taken", say.With("n", say.Count(int(math.Round(100*c.Confidence)))))
	case c.Means != "": // it would be taken, once a person says more
		v.State, v.StateSaid = "open", s.Say("intake.state.left")
	default:
		v.StateSaid = s.Say("intake.state.left")
	}
	if v.State != "taken" { // else all is said
		v.Notes = append(v.Notes, s.tell(s.named(c.Reason)))
	}
	for _, n := range c.Notes {
		if !slices.Contains(asked, n.Code) {
			v.Notes = append(v.Notes, s.tell(s.named(n)))
		}
	}
}

// asked are the notes that the fields of a column say already.
var asked = []geo.Code{"propose.no-unit", "propose.zeros", "propose.january", "propose.unknown-values"}

// named says the meaning that a reason names in the reader's words.
func (s speaker) named(m geo.Message) geo.Message {
	if !slices.Contains([]geo.Code{"propose.cells-differ", "propose.two-columns"}, m.Code) {
		return m
	}
	for i, a := range m.Args {
		if text, ok := a.Value.(geo.Text); ok && a.Name == "value" && s.catalogue.Has("column."+string(text)) {
			m.Args = slices.Clone(m.Args)
			m.Args[i] = geo.With("value", geo.Text(s.Say("column."+string(text))))
		}
	}
	return m
}

// writtenField asks for the unit of a column, or for how its dates are written.
func (s speaker) writtenField(id string, c intake.ProposedColumn) *fieldView {
	var choices []string
	code, label := "unit.", "intake.unit-of"
	switch c.Form {
	case intake.FormLength:
		choices = intake.LengthUnits()
	case intake.FormRate:
		choices = intake.RateUnits()
	case intake.FormDate:
		choices, code, label = intake.DateForms(), "dates.", "intake.dates-of"
	default:
		return nil
	}
	v := &fieldView{ID: "written." + id, Name: "written." + id, Label: s.Say(label, say.With("field", say.Text(c.Column))), Type: "select"}
	if c.Written == "" {
		v.add("", s.Say("intake.choose"), "")
	}
	if c.Written != "" && !slices.Contains(choices, c.Written) { // as the name of the column writes it
		v.add(c.Written, c.Written, c.Written)
	}
	for _, choice := range choices {
		v.add(choice, s.Say("intake."+code+strings.ReplaceAll(strings.ToLower(choice), "/", "-")), c.Written)
	}
	return v
}

// wordFields asks what the texts of a column stand for.
func (s speaker) wordFields(v *columnView, id string, c intake.ProposedColumn) {
	if c.Form != intake.FormWords || len(c.Values) == 0 {
		return
	}
	unknown := 0
	for i, value := range c.Values {
		f := fieldView{ID: "value." + id + "." + strconv.Itoa(i), Name: "value." + id + "." + strconv.Itoa(i), Label: value.Text, Type: "select", Value: value.Text}
		f.add("", s.Say("intake.not-known"), value.Code)
		for _, code := range c.Codes {
			f.add(code, s.valueName(c.Means, code), value.Code)
		}
		if !slices.Contains(c.Codes, value.Code) && value.Code != "" {
			f.add(value.Code, s.valueName(c.Means, value.Code), value.Code)
		}
		if value.Code == "" {
			unknown++
		}
		v.Words = append(v.Words, f)
	}
	v.WordsOf = s.Say("intake.words-of", say.With("n", say.Count(len(c.Values))))
	if unknown > 0 {
		v.WordsOf = s.Say("intake.words-unknown", say.With("n", say.Count(unknown)), say.With("total", say.Count(len(c.Values))))
	}
}

// valueName is what a text may stand for, in the reader's words where there are any.
func (s speaker) valueName(meant, code string) string {
	area, own := map[string]string{"outcome": "outcome.", "method": "method."}[meant]
	if !own {
		area = "intake.value."
	}
	if s.catalogue.Has(area + code) {
		return s.Say(area + code)
	}
	return code
}
