package intake_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/geo"
	"waterstrike/geo/demoland"
	"waterstrike/geo/intake"
)

// saved takes a proposed mapping through its file, as a person would keep it.
func saved(t testing.TB, m intake.Mapping) intake.Mapping {
	t.Helper()
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	m, err = intake.LoadMapping(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("%v in %s", err, data)
	}
	return m
}

// What is proposed for the demo region's tables must be what its own mapping files say,
// field by field; what they say besides is left out, never another thing in its place.
func TestProposeDemo(t *testing.T) {
	right, all := 0, 0
	for _, seed := range []uint64{1, 2, 3} {
		land := demoland.New(seed)
		fsys := fstest.MapFS{}
		for _, f := range land.Tables(land.Records()).Files {
			fsys[f.Name] = &fstest.MapFile{Data: f.Data}
		}
		for office, names := range map[string][]string{
			"northwest": {"northwest_bores.csv", "northwest_layers.csv"}, "est": {"est_forages.csv", "est_coupes.csv"},
			"sudoeste": {"sudoeste_furos.csv"}, "places": {"villages.csv", "water_points.csv"},
		} {
			want := mapping(t, filepath.Join("..", "demoland", "mappings", office+".json"))
			m, _, err := intake.Propose(context.Background(), fsys, names)
			if err != nil {
				t.Fatal(err)
			}
			m = saved(t, m)
			n, same := compareTables(t, m.Tables, want.Tables)
			all, right = all+n, right+same
			compareRead(t, m, want, fsys)
		}
	}
	t.Logf("%d of %d fields, keys and positions proposed as the region's own mappings have them", right, all)
	if right*100 < all*97 { // a column that is empty in one region, a zero that only a person can explain
		t.Errorf("%d of %d", right, all)
	}
}

func compareTables(t *testing.T, got, want []intake.Table) (n, same int) {
	t.Helper()
	count := func(what string, ok bool) {
		n++
		if ok {
			same++
		} else {
			t.Log(what)
		}
	}
	for i, w := range want {
		if i >= len(got) || got[i].Kind != w.Kind || got[i].File != w.File {
			t.Errorf("table %d of %s is not proposed", i, w.File)
			continue
		}
		g := got[i]
		count(w.File+" key", slices.Equal(g.Key, w.Key))
		if w.Position != nil {
			count(w.File+" position", reflect.DeepEqual(g.Position, w.Position))
		}
		for name, f := range w.Fields {
			count(fmt.Sprintf("%s %s: %+v, want %+v", w.File, name, g.Fields[name], f), sameField(g.Fields[name], f))
		}
		for j, p := range w.Parts {
			for name, f := range p.Fields {
				count(w.File+" "+name, j < len(g.Parts) && sameField(g.Parts[j].Fields[name], f))
			}
		}
	}
	return n, same
}

// sameField reports fields that read the same: of the values, those that stand in the
// file.
func sameField(g, w intake.Field) bool {
	for text, value := range g.Values {
		if w.Values[strings.ToLower(text)] != value {
			return false
		}
	}
	sized := intake.LengthM(g.Unit) == intake.LengthM(w.Unit) && intake.RateLPS(g.Unit) == intake.RateLPS(w.Unit)
	slices.Sort(g.Dates)
	return g.Column == w.Column && sized && slices.Equal(g.Dates, w.Dates) && slices.Equal(g.Missing, w.Missing)
}

// compareRead reads the files by both mappings: the same rows come in.
func compareRead(t *testing.T, m, want intake.Mapping, fsys fstest.MapFS) {
	t.Helper()
	m.Dataset, want.Within = want.Dataset, nil
	bagM, gotM := readAll(t, m, fsys)
	bagW, gotW := readAll(t, want, fsys)
	if gotM.Applied != gotW.Applied || gotM.Parts < gotW.Parts || len(bagM.Bores) != len(bagW.Bores) {
		t.Errorf("%s: %+v, want %+v", want.Name, gotM, gotW)
	}
	for i := range bagW.Bores {
		g, w := bagM.Bores[i], bagW.Bores[i]
		if g.DepthM != w.DepthM || g.Method != w.Method || !reflect.DeepEqual(g.Layers, w.Layers) || !reflect.DeepEqual(g.Position, w.Position) {
			t.Errorf("%s: %+v, want %+v", w.Code, g, w)
		}
	}
}

func propose(t testing.TB, pairs ...string) (intake.Mapping, intake.Report) {
	t.Helper()
	var names []string
	for i := 0; i < len(pairs); i += 2 {
		names = append(names, pairs[i])
	}
	m, r, err := intake.Propose(context.Background(), files(pairs...), names)
	if err != nil {
		t.Fatal(err)
	}
	return m, r
}

func columnOf(t testing.TB, r intake.Report, name string) intake.ProposedColumn {
	t.Helper()
	for _, f := range r.Files {
		for _, c := range f.Columns {
			if c.Column == name {
				return c
			}
		}
	}
	t.Fatalf("nothing is said of %q", name)
	return intake.ProposedColumn{}
}

// What is not certain is left out and said, one case each.
func TestProposeLeavesOutDoubts(t *testing.T) {
	const head = "id,lon,lat,depth (m),"
	rows := func(cells ...string) string {
		out := ""
		for i, c := range cells {
			out += fmt.Sprintf("B-%d,0.%d,0.2,12,%s\n", i, i+1, c)
		}
		return out
	}
	tests := []struct {
		name, column string
		cells        []string
		why          geo.Code // "" when taken
		note         geo.Code
	}{
		{"days above twelve", "date", []string{"13/04/2019", "02/03/2019"}, "", ""},
		{"months first", "date", []string{"04/13/2019", "02/03/2019"}, "", ""},
		{"neither", "date", []string{"04/03/2019", "02/03/2019"}, "propose.dates-ambiguous", ""},
		{"both", "date", []string{"04/13/2019", "13/03/2019"}, "propose.dates-mixed", ""},
		{"two-digit years", "date", []string{"13/04/19", "02/03/19"}, "propose.dates-short", ""},
		{"no dates", "date", []string{"soon", "later"}, "propose.no-dates", ""},
		{"a level without a unit", "swl", []string{"4", "5"}, "", "propose.no-unit"},
		{"a level with zeros", "swl (m)", []string{"0", "5"}, "", "propose.zeros"},
		{"a unit in each cell", "yield", []string{"0.3 l/s", "12 l/min"}, "", ""},
		{"words for numbers", "swl (m)", []string{"good", "bad"}, "propose.cells-differ", ""},
		{"yes and no in figures", "water level", slices.Repeat([]string{"0", "1"}, 10), "propose.cells-differ", ""},
		{"results unknown", "result", []string{"A", "B"}, "propose.unknown-values", ""},
		{"a result unknown", "result", []string{"dry", "Z"}, "", "propose.unknown-values"},
		{"a placeholder", "yield (L/s)", []string{"9999", "0.5"}, "", "propose.placeholder"},
		{"a day that is none", "date", []string{"1900-01-01", "2001-05-06"}, "", "propose.placeholder"},
		{"empty", "result", []string{"", ""}, "propose.empty-column", ""},
		{"unheard of", "zzz", []string{"1", "2"}, "propose.unknown-column", ""},
	}
	for _, tt := range tests {
		_, r := propose(t, "b.csv", head+tt.column+"\n"+rows(tt.cells...))
		c := columnOf(t, r, tt.column)
		why := tt.why
		if why == "" {
			why = "propose.by-name"
		}
		noted := tt.note == "" && len(c.Notes) == 0 || slices.ContainsFunc(c.Notes, func(m geo.Message) bool { return m.Code == tt.note })
		if c.Reason.Code != why || (c.Field == "") != (tt.why != "") || !noted {
			t.Errorf("%s: %+v, want %s, note %s", tt.name, c, why, tt.note)
		}
	}
}

// Villages whose names repeat are told apart by name and position: two of one place are two,
// and one name at one place is one.
func TestProposeVillagesOfOnePlace(t *testing.T) {
	m, _ := propose(t, "a.csv", "village,people,lon,lat\nUpper,100,0.1,0.2\nUpper,200,0.5,0.2\nLower,300,0.1,0.2\nFar,10,0.3,0.4\n")
	if got := m.Tables[0]; got.Kind != "villages" || !slices.Equal(got.Key, []string{"village", "lon", "lat"}) {
		t.Errorf("%s, key %q", got.Kind, got.Key)
	}
}

// Columns by name in three languages, with units, accents, capitals and slips.
func TestProposeNames(t *testing.T) {
	m, _ := propose(t,
		"a.csv", "WellID,LONGTUDE,Latitude,Depth (ft),Nível estático (m),Profondeur_m\n1,0.1,0.2,40,3,\n2,0.2,0.3,50,4,\n")
	got := m.Tables[0]
	if got.Position == nil || got.Position.Lon != "LONGTUDE" || got.Key[0] != "WellID" {
		t.Errorf("%+v", got)
	}
	if f := got.Fields["depth"]; f.Column != "Depth (ft)" || f.Unit != "ft" {
		t.Errorf("depth %+v", f)
	}
	if f := got.Fields["level"]; f.Column != "Nível estático (m)" || f.Unit != "m" {
		t.Errorf("level %+v", f)
	}
	m, _ = propose(t, "a.csv", "numéro,X_UTM36S,Y_UTM36S,Profondeur_m\n1,300000,8300000,\"12,5\"\n2,300100,8300000,\"13,5\"\n")
	if at := m.Tables[0].Position; at == nil || at.CRS != "WGS 84 / UTM zone 36S" || m.Tables[0].Decimal != "," || m.Language != "fr" {
		t.Errorf("%+v in %+v", at, m)
	}
	_, r := propose(t, "a.csv", "no,x,y,depth (m),result\n1,300000,8300000,12,dry\n2,300100,8300000,13,dry\n")
	if c := columnOf(t, r, "x"); c.Field != "" || c.Reason.Code != "propose.no-grid" {
		t.Errorf("a grid that nobody named: %+v", c)
	}
}

// Sheets of one workbook are files to a proposal, and join.
func TestProposeWorkbook(t *testing.T) {
	m, r, err := intake.Propose(context.Background(), fstest.MapFS{"b.xlsx": {Data: workbook(t)}}, []string{"b.xlsx"})
	if err != nil || len(m.Tables) != 1 || m.Tables[0].Sheet != "Bores" || m.Tables[0].Position == nil {
		t.Errorf("%+v %+v %v", m, r, err)
	}
}

// The open data sets: what is proposed for them reads at least what is named here; the
// edits that a person then makes stand in the test's log of reasons.
func TestProposeRegisters(t *testing.T) {
	tests := []struct {
		folder string
		names  []string
		fields map[string][]string // by kind
	}{
		{"darling_floodplain", []string{"bores.csv", "layers.csv", "construction.csv"}, map[string][]string{
			"bores": {"code", "name", "completed"}, "layers": {"top", "base", "words"}, "pipes": {"kind", "top", "base", "diameter"},
		}},
		{"ethiopia_sidama", []string{"boreholes.csv"}, map[string][]string{"bores": {"code", "name", "place", "depth", "level", "yield", "ground"}}},
		{"malawi_drilling", []string{"drillingdata.csv", "boreholeforensicspumpingtest.csv"}, map[string][]string{"bores": {"depth", "level"}}},
		{"waterpoints", []string{"waterpointstatus.csv", "waterpointfunctionality.csv", "rwpfunctionality.csv"}, map[string][]string{"water-points": {"works"}}},
		{"uganda_luweero", []string{"ugabore.csv"}, map[string][]string{"bores": {"place", "depth", "level", "yield"}}},
		{"california_levels", []string{"stations.csv", "measurements.csv"}, map[string][]string{"bores": {"depth"}, "levels": {"level", "date"}}},
	}
	for _, tt := range tests {
		t.Run(tt.folder, func(t *testing.T) {
			from := os.DirFS(shared(t, tt.folder))
			m, r, err := intake.Propose(context.Background(), from, tt.names)
			if err != nil {
				t.Fatal(err)
			}
			kinds := map[string]int{}
			for _, table := range m.Tables {
				kinds[table.Kind]++
				for _, field := range tt.fields[table.Kind] {
					if _, has := table.Fields[field]; !has {
						t.Errorf("%s: no %s", table.File, field)
					}
				}
			}
			if len(m.Tables) != len(tt.names) || len(kinds) != len(tt.fields) {
				t.Errorf("kinds %v", kinds)
			}
			t.Logf("%+v", r)
			m.Lengths, m.Yields = "m", "L/s" // the one edit that all of them need, in the sets' own units
			got, err := intake.Read(context.Background(), saved(t, m), from, &intake.Memory{}, nil)
			if err != nil || got.Applied*100 < got.Rows*85 { // one reading in ten of the levels is empty
				t.Errorf("%+v %v", got, err)
			}
			t.Logf("%d rows, %d applied, %d listed", got.Rows, got.Applied, got.Rejected)
		})
	}
}

func FuzzPropose(f *testing.F) {
	f.Add("id;lon;lat;Depth (ft)\n1;0,5;0,25;12\n", "id;from;to;description\n1;0;4;clay\n")
	f.Add("\"((\",UTM99X,°\n,,\n", "N°;À;De\n")
	f.Fuzz(func(t *testing.T, a, b string) {
		if len(a)+len(b) > 1<<14 {
			return // longer than two tables need to be
		}
		m, r, err := intake.Propose(context.Background(), files("a.csv", a, "b.csv", b), []string{"a.csv", "b.csv"})
		if err != nil {
			return
		}
		m.Lengths, m.Yields = "m", "L/s"
		if m.Dataset == "" || len(m.Tables) == 0 || len(r.Files) != 2 {
			t.Errorf("%+v", m)
		}
		saved(t, m)
	})
}
