package intake_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// A table whose names say little: a person says what its columns are.
const unnamed = `a,b,c,d,e,f,g
1,0.1,0.2,40,0,03/04/2011,fine
2,0.1,0.3,40,3,05/06/2011,parched
3,0.2,0.3,30,2,01/01/2012,fine
`

func proposeWith(t *testing.T, rows string, chosen intake.Chosen) (intake.Mapping, intake.ProposedFile) {
	t.Helper()
	m, r, err := intake.ProposeWith(context.Background(), files("a.csv", rows), []string{"a.csv"}, chosen)
	if err != nil {
		t.Fatal(err)
	}
	return m, r.Files[0]
}

func chosenColumns(means string) (out []intake.ChosenColumn) {
	for _, m := range strings.Split(means, " ") {
		out = append(out, intake.ChosenColumn{Means: strings.Trim(m, "-")})
	}
	return out
}

// What a person chose is done, to the record: the columns, their units and date forms, what
// texts and zeros stand for.
func TestWhatAPersonChose(t *testing.T) {
	columns := chosenColumns("code lon lat depth level completed outcome")
	columns[3].Written, columns[4].Written, columns[4].NoZeros = "ft", "m", true
	columns[5].Written, columns[5].Years = "dmy", true
	columns[6].Values = map[string]string{"fine": "producing", "parched": "dry"}
	m, f := proposeWith(t, unnamed, intake.Chosen{"a.csv": {Kind: "bores", Columns: columns}})
	if open := (intake.Report{Files: []intake.ProposedFile{f}}).Open(); len(open) > 0 {
		t.Errorf("still open: %v", open)
	}
	bag, _ := readAll(t, saved(t, m), files("a.csv", unnamed))
	if len(bag.Bores) != 3 {
		t.Fatalf("%d bores", len(bag.Bores))
	}
	first, second, third := bag.Bores[0], bag.Bores[1], bag.Bores[2]
	if first.Code != "1" || first.DepthM.Or(0) != 40*0.3048 || len(first.Levels) != 0 || first.Outcome != geo.Producing {
		t.Errorf("first: %+v", first)
	}
	if second.Outcome != geo.Dry || second.Completed.Or(geo.Date{}) != (geo.Date{Year: 2011, Month: 6, Day: 5}) || len(second.Levels) != 1 {
		t.Errorf("second: %+v", second)
	}
	if third.Completed.Or(geo.Date{}) != (geo.Date{Year: 2012}) {
		t.Errorf("third: %+v", third.Completed)
	}
}

// What is left open is told, with what a person may say of it.
func TestWhatIsLeftToAPerson(t *testing.T) {
	_, f := proposeWith(t, unnamed, intake.Chosen{"a.csv": {Kind: "bores", Columns: chosenColumns("code lon lat depth level completed outcome depth")}})
	open := intake.Report{Files: []intake.ProposedFile{f}}.Open()["a.csv"]
	if !slices.Equal(open, []string{"d", "e"}) {
		t.Errorf("without a unit: %v", open)
	}
	if c := f.Columns[5]; c.Field != "" || c.Means != "completed" || c.Form != intake.FormDate || c.Reason.Code != "propose.dates-ambiguous" {
		t.Errorf("the date: %+v", c)
	}
	if c := f.Columns[4]; !slices.Equal(c.Asks, []string{"zeros"}) || c.Form != intake.FormLength {
		t.Errorf("the level: %+v", c)
	}
	c := f.Columns[6]
	if c.Form != intake.FormWords || len(c.Values) != 2 || c.Values[0] != (intake.ProposedValue{Text: "fine", N: 2}) || !slices.Contains(c.Codes, "dry") {
		t.Errorf("the outcome: %+v", c)
	}
	if !slices.Equal(f.Columns[3].Samples, []string{"40", "30"}) {
		t.Errorf("samples: %q", f.Columns[3].Samples)
	}
}

// A kind alone, without columns, lets the names tell the columns; "" leaves the table out.
func TestAKindChosen(t *testing.T) {
	rows := "village,lon,lat,people\nA,0.1,0.2,300\nB,0.2,0.2,200\n"
	if m, _ := proposeWith(t, rows, nil); m.Tables[0].Kind != "villages" {
		t.Fatalf("proposed as %s", m.Tables[0].Kind)
	}
	m, _ := proposeWith(t, rows, intake.Chosen{"a.csv": {Kind: "bores"}})
	if m.Tables[0].Kind != "bores" || m.Tables[0].Fields["place"].Column != "village" || m.Tables[0].Position == nil {
		t.Errorf("as bores: %+v", m.Tables[0])
	}
	_, r, err := intake.ProposeWith(context.Background(), files("a.csv", rows), []string{"a.csv"}, intake.Chosen{"a.csv": {}})
	if geo.KindOf(err) != geo.Invalid || len(r.Files) != 1 {
		t.Errorf("all left out: %v, %+v", err, r)
	}
}

// Each grid, datum, encoding and decimal mark that a person names is taken; one that is none
// is told and does nothing.
func TestHowAPersonSaysATableIsWritten(t *testing.T) {
	rows := "no;x;y;depth (m)\n1;500000;20000;12,5\n2;500100;20000;9\n"
	m, _ := proposeWith(t, rows, intake.Chosen{"a.csv": {Kind: "bores", Grid: "WGS 84 / UTM zone 31N", Decimal: ",", Encoding: "cp850", Delimiter: ";"}})
	p := m.Tables[0].Position
	if p == nil || p.Kind != "projected" || p.CRS != "WGS 84 / UTM zone 31N" || m.Tables[0].Encoding != "cp850" {
		t.Errorf("%+v", m.Tables[0])
	}
	bag, _ := readAll(t, saved(t, m), files("a.csv", rows))
	if bag.Bores[0].DepthM.Or(0) != 12.5 || !bag.Bores[0].Position.Known() {
		t.Errorf("%+v", bag.Bores[0])
	}
	_, f := proposeWith(t, rows, intake.Chosen{"a.csv": {Kind: "bores", Grid: "the usual one"}})
	if !slices.ContainsFunc(f.Notes, func(n geo.Message) bool { return n.Code == "propose.bad-grid" }) {
		t.Errorf("notes: %v", f.Notes)
	}
	_, f = proposeWith(t, "no,longitude,latitude,depth (m)\n1,0.1,0.2,9\n", intake.Chosen{"a.csv": {Kind: "bores", Datum: "the usual one"}})
	if !slices.ContainsFunc(f.Notes, func(n geo.Message) bool { return n.Code == "propose.bad-datum" }) {
		t.Errorf("notes: %v", f.Notes)
	}
}

// Whatever people are offered, a mapping takes: every unit and form is one that the readers
// know.
func TestWhatIsOffered(t *testing.T) {
	for i, units := range [][]string{intake.LengthUnits(), intake.RateUnits()} {
		for _, unit := range units {
			field := []string{"depth", "yield"}[i]
			columns := chosenColumns("code lon lat " + field)
			columns[3].Written = unit
			m, f := proposeWith(t, "a,b,c,d\n1,0.1,0.2,9 m\n", intake.Chosen{"a.csv": {Kind: "bores", Columns: columns}})
			if saved(t, m).Tables[0].Fields[field].Unit != unit || f.Columns[3].Written != unit {
				t.Errorf("%s: %+v", unit, m.Tables[0].Fields)
			}
		}
	}
	for _, form := range intake.DateForms() {
		columns := chosenColumns("code lon lat completed")
		columns[3].Written = form
		m, f := proposeWith(t, "a,b,c,d\n1,0.1,0.2,2011\n", intake.Chosen{"a.csv": {Kind: "bores", Columns: columns}})
		if saved(t, m); f.Columns[3].Written != form {
			t.Errorf("%s is shown as %q", form, f.Columns[3].Written)
		}
	}
}

// What is asked of dates is shown by one of which it is in doubt.
func TestDatesInDoubtAreShown(t *testing.T) {
	rows := "id,lon,lat,date\nA,0.1,0.2,2011-03-04\nB,0.2,0.2,2011-03-05\nC,0.3,0.2,04/03/2019\n"
	_, f := proposeWith(t, rows, nil)
	if m := f.Columns[3].Reason; m.Code != "propose.dates-ambiguous" || len(m.Args) == 0 || m.Args[0].Value != geo.Text("04/03/2019") {
		t.Errorf("the date: %+v", m)
	}
}
