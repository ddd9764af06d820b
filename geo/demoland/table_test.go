package demoland_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
)

// mess is one region's records and tables, with what each row's defects are.
type mess struct {
	demoland.Mess
	records demoland.Records
	bores   map[string]geo.Bore
}

func makeMess(t *testing.T) mess {
	t.Helper()
	l := lands()[0]
	m := mess{records: l.Records(), bores: map[string]geo.Bore{}}
	m.Mess = l.Tables(m.records)
	for _, b := range m.records.Bores {
		m.bores[b.Code] = b
	}
	return m
}

func (m mess) file(t *testing.T, name string) []byte {
	t.Helper()
	i := slices.IndexFunc(m.Files, func(f demoland.File) bool { return f.Name == name })
	if i < 0 {
		t.Fatalf("no file %s", name)
	}
	return m.Files[i].Data
}

// rows reads a table; rows[0] is the first row of data.
func (m mess) rows(t *testing.T, name string, comma rune) [][]string {
	t.Helper()
	r := csv.NewReader(bytes.NewReader(m.file(t, name)))
	r.Comma = comma
	rows, err := r.ReadAll()
	if err != nil && err != io.EOF {
		t.Fatal(err)
	}
	return rows[1:]
}

func (m mess) has(file string, row int, kinds ...string) bool {
	return slices.ContainsFunc(m.Defects, func(d demoland.Defect) bool {
		return d.File == file && d.Row == row && slices.Contains(kinds, d.Kind)
	})
}

func (m mess) truth(t *testing.T, code string) coord.LonLat {
	t.Helper()
	b, ok := m.bores[code]
	if !ok {
		t.Fatalf("no bore %s", code)
	}
	return b.Position.Or(coord.Reading{}).Pos
}

func TestEnglishPositionsReadBack(t *testing.T) {
	m := makeMess(t)
	for i, row := range m.rows(t, "northwest_bores.csv", ',') {
		lat, err1 := strconv.ParseFloat(row[2], 64)
		lon, err2 := strconv.ParseFloat(row[3], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		m.compare(t, "northwest_bores.csv", i+1, row[0], coord.LonLat{Lon: lon, Lat: lat}, 1.5)
	}
}

// compare wants sound rows within tolM of the truth and defective positions far from it.
func (m mess) compare(t *testing.T, file string, row int, code string, got coord.LonLat, tolM float64) {
	t.Helper()
	off := coord.DistanceM(got, m.truth(t, code))
	wrong := m.has(file, row, demoland.Swapped, demoland.SignLost)
	duplicate := m.has(file, row, demoland.Duplicate) // a copy of the row above, right or wrong
	if wrong && off < 5000 || !wrong && !duplicate && off > tolM {
		t.Errorf("%s row %d: %.1f m from the truth, defective %v", file, row, off, wrong)
	}
}

func TestFrenchPositionsReadBack(t *testing.T) {
	m := makeMess(t)
	zones := map[string]int{}
	for i, row := range m.rows(t, "est_forages.csv", ';') {
		zones[row[4]]++
		if m.has("est_forages.csv", i+1, demoland.ZoneMissing, demoland.Swapped, demoland.Duplicate) {
			continue
		}
		grid, err := coord.ParseProjection(row[4])
		if err != nil {
			t.Fatal(err)
		}
		x, _ := strconv.ParseFloat(row[2], 64)
		y, _ := strconv.ParseFloat(row[3], 64)
		p, _, err := coord.Projected{CRS: grid, EastingM: x, NorthingM: y}.LonLat()
		if err != nil {
			t.Fatal(err)
		}
		m.compare(t, "est_forages.csv", i+1, row[0], p, 1.5)
	}
	if zones["30N"] == 0 || zones["31N"] == 0 || zones[""] == 0 {
		t.Errorf("zones %v: both and a blank were meant", zones)
	}
}

func TestPortuguesePositionsReadBack(t *testing.T) {
	m := makeMess(t)
	for i, row := range m.rows(t, "sudoeste_furos.csv", ';') {
		if !strings.HasSuffix(row[3], "O") { // letters lost: first rows of such bores are in the defects
			continue
		}
		lat, _, err1 := coord.ReadAngle(row[2], coord.Latitude)
		lon, _, err2 := coord.ReadAngle(row[3], coord.Longitude)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		p := coord.Minna.DefaultOperation().ToWGS84(coord.LonLat{Lon: lon, Lat: lat})
		m.compare(t, "sudoeste_furos.csv", i+1, row[0], p, 4) // a tenth of a second is 3 m
	}
}

func TestFrenchDepthsAndYieldsReadBack(t *testing.T) {
	m := makeMess(t)
	value := func(text string) (float64, bool) {
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		return v, err == nil
	}
	for i, row := range m.rows(t, "est_forages.csv", ';') {
		b := m.bores[row[0]]
		if d, ok := value(row[7]); !ok || d != b.DepthM.Or(-1) {
			t.Errorf("row %d: depth %q, want %v", i+1, row[7], b.DepthM)
		}
		if q, ok := value(row[9]); ok && (q/3.6-b.YieldLPS.Or(-1) > 0.002 || b.YieldLPS.Or(-1)-q/3.6 > 0.002) {
			t.Errorf("row %d: yield %q m3/h, want %v L/s", i+1, row[9], b.YieldLPS)
		}
	}
}

func TestDefectsStandWhereTheySay(t *testing.T) {
	m := makeMess(t)
	kinds := map[string]int{}
	for _, d := range m.Defects {
		kinds[d.Kind]++
		comma := ';'
		if strings.HasPrefix(d.File, "northwest") {
			comma = ','
		}
		rows := m.rows(t, d.File, comma)
		if d.Row > len(rows) {
			t.Fatalf("%s has no row %d", d.File, d.Row)
		}
		if d.Kind == demoland.Duplicate && !slices.Equal(rows[d.Row-1], rows[d.Row-2]) {
			t.Errorf("%s row %d is not a copy of the row above", d.File, d.Row)
		}
		if code := rows[d.Row-1][0]; m.bores[code].ID != d.Bore {
			t.Errorf("%s row %d is of bore %s, not of %s", d.File, d.Row, code, d.Bore)
		}
	}
	for _, kind := range []string{
		demoland.Swapped, demoland.SignLost, demoland.ZoneMissing, demoland.BottomMissing, demoland.Duplicate,
		demoland.Misspelt, demoland.LevelAbsent, demoland.LevelZero, demoland.YieldUnit, demoland.DateSerial,
		demoland.DateMissing, demoland.DateYear,
	} {
		if kinds[kind] == 0 {
			t.Errorf("no %s in any file", kind)
		}
	}
}

func TestShapesAreGeoJSON(t *testing.T) {
	m := makeMess(t)
	for name, want := range map[string]int{"boundary.geojson": 1, "rivers.geojson": len(m.records.Rivers)} {
		var c struct {
			Type     string
			Features []struct {
				Geometry struct{ Type string }
			}
		}
		if err := json.Unmarshal(m.file(t, name), &c); err != nil || c.Type != "FeatureCollection" || len(c.Features) != want {
			t.Errorf("%s: %v, %s of %d features, want %d", name, err, c.Type, len(c.Features), want)
		}
	}
}

// The README names every file and every defect.
func TestReadmeIsComplete(t *testing.T) {
	m := makeMess(t)
	text := string(m.file(t, "README.md"))
	for _, f := range m.Files {
		if f.Name != "README.md" && !strings.Contains(text, "| "+f.Name+" |") {
			t.Errorf("%s is not in the README", f.Name)
		}
	}
	for _, d := range m.Defects {
		if !strings.Contains(text, "| "+d.File+" | "+strconv.Itoa(d.Row)+" | "+d.Kind+" |") {
			t.Errorf("%v is not in the README", d)
		}
	}
}
