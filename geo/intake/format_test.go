package intake_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// plain maps the columns that the files of these tests have.
const plain = `{"dataset": "plain", "tables": [{"file": "FILE", "kind": "bores", "key": ["no"],
  "position": {"kind": "lon-lat", "lon": "LON", "lat": "LAT"},
  "fields": {"depth": {"column": "depth", "unit": "m"}, "place": {"column": "place"}, "completed": {"column": "done"}}}]}`

func plainFor(t testing.TB, file, lon, lat string) intake.Mapping {
	return load(t, strings.NewReplacer("FILE", file, "LON", lon, "LAT", lat).Replace(plain))
}

// workbook writes a workbook by another library than ours: title rows above the header,
// two sheets, a date by its style, merged cells, a formula with its cached value.
func workbook(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := f.NewSheet("Bores")
	must(err)
	must(f.SetCellValue("Bores", "A1", "Bores of the district, 2021"))
	must(f.SetSheetRow("Bores", "A3", &[]any{"no", "place", "lon", "lat", "depth", "done"}))
	must(f.SetSheetRow("Bores", "A4", &[]any{"B-1", "Anse", 0.5, 0.25, 12.5, time.Date(2021, 3, 9, 0, 0, 0, 0, time.UTC)}))
	must(f.SetSheetRow("Bores", "A5", &[]any{"B-2", "", 0.51, 0.26, 13.5, 44264})) // 13.5 is what the formula gave
	must(f.SetSheetRow("Bores", "A7", &[]any{"B-3", "Bora", 0.52, 0.27, 44264, "2020-05"}))
	style, err := f.NewStyle(&excelize.Style{CustomNumFmt: ptr(`dd/mm/yyyy`)})
	must(err)
	must(f.SetCellStyle("Bores", "F4", "F5", style))
	must(f.SetCellFormula("Bores", "E5", "E4+1"))
	must(f.MergeCell("Bores", "B4", "B5"))
	var out bytes.Buffer
	must(f.Write(&out))
	return out.Bytes()
}

func ptr[T any](v T) *T { return &v }

func TestReadWorkbook(t *testing.T) {
	for _, sheet := range []string{"Bores", "bores", "2"} {
		m := plainFor(t, "b.xlsx", "lon", "lat")
		m.Tables[0].Sheet = sheet
		bag, got := readAll(t, m, fstest.MapFS{"b.xlsx": {Data: workbook(t)}})
		if got.Rows != 3 || len(bag.Bores) != 3 || got.Files[0].File != "b.xlsx / "+sheet {
			t.Fatalf("%+v", got)
		}
		for i, want := range []struct {
			place, done string
			depth       float64
		}{{"Anse", "2021-03-09", 12.5}, {"Anse", "2021-03-09", 13.5}, {"Bora", "2020-05", -1}} {
			b := bag.Bores[i]
			if done := b.Completed.Or(geo.Date{}).String(); b.Place != want.place || done != want.done || b.DepthM.Or(-1) != want.depth {
				t.Errorf("%s: %q %s %v, want %+v", b.ID, b.Place, done, b.DepthM, want)
			}
		}
		wantIssues(t, bag, "issue.depth-out-of-range") // 44264 without a date's style is a number
	}
	m := plainFor(t, "b.xlsx", "lon", "lat")
	m.Tables[0].Sheet, m.Tables[0].HeaderRow = "Bores", 1
	_, err := intake.Read(context.Background(), m, fstest.MapFS{"b.xlsx": {Data: workbook(t)}}, &intake.Memory{}, nil)
	if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), "depth") {
		t.Errorf("the title taken as the header: %v", err)
	}
}

const collection = `{"type": "FeatureCollection", "name": "bores", "features": [
  {"type": "Feature", "id": 7, "geometry": {"type": "Point", "coordinates": [0.123456789, -0.25, 12]}, "properties": {"depth": 12.5, "place": "Anse", "done": "2021-03-09"}},
  {"type": "Feature", "geometry": null, "properties": {"no": "B-2", "list": [1, 2], "ok": true}},
  {"type": "Feature", "geometry": [], "properties": {"no": "B-3"}},
  {"type": "Feature", "geometry": {"type": "LineString", "coordinates": [[0, 0], [1, 1]]}, "properties": {"no": "B-4"}}
]}`

func TestReadGeoJSON(t *testing.T) {
	m := plainFor(t, "b.geojson", "geometry.lon", "geometry.lat")
	bag, got := readAll(t, m, files("b.geojson", strings.Replace(collection, `"id": 7,`, `"id": 7,`, 1)))
	// The first feature has no "no": its key is missing.
	if got.Rows != 4 || got.Applied != 2 {
		t.Fatalf("%+v", got)
	}
	wantIssues(t, bag, "issue.no-key", "issue.missing-position", "issue.unreadable-row", "issue.missing-position")
	m.Tables[0].Key = []string{"id"}
	bag, _ = readAll(t, m, files("b.geojson", collection))
	at, _ := bag.Bores[0].Position.Get()
	if math.Abs(at.Pos.Lon-0.123456789) > 1e-12 || at.Pos.Lat != -0.25 || bag.Bores[0].DepthM.Or(0) != 12.5 {
		t.Errorf("%+v", bag.Bores[0])
	}
}

// Files that are no tables are refused with what is wrong, and none takes the memory or
// the time it would ask for.
func TestRefusedFiles(t *testing.T) {
	cut := func() string {
		var out bytes.Buffer
		w := excelize.NewFile()
		for i := range 40 {
			cell, _ := excelize.CoordinatesToCellName(1, i+1)
			if err := w.SetCellValue("Sheet1", cell, strings.Repeat("a", 30000)); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Write(&out); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	tests := []struct {
		name, file, data, want string
	}{
		{"empty text", "b.csv", "", "empty"},
		{"binary", "b.csv", "no,depth\x00\x01\x02\n1,2\n", "bytes that no text has"},
		{"one endless line", "b.csv", strings.Repeat("a", 9<<20), "runs on"},
		{"a million columns", "b.csv", strings.Repeat("a,", 1_000_000) + "\n", "1000001 columns"},
		{"text as a workbook", "b.xlsx", "no,depth\n1,2\n", "no XLSX"},
		{"a zip that is no workbook", "b.xlsx", "PK\x05\x06" + strings.Repeat("\x00", 18), "no XLSX"},
		{"a cut workbook", "b.xlsx", cut()[:300], "no XLSX"},
		{"a bomb", "b.xlsx", bomb(t), "no XLSX"},
		{"an empty sheet", "b.xlsx", emptyWorkbook(t), "empty"},
		{"text as GeoJSON", "b.geojson", "no,depth\n", "no GeoJSON"},
		{"another JSON", "b.geojson", `{"type": "Topology", "arcs": [1, 2]}`, "no list of features"},
		{"a cut GeoJSON", "b.geojson", collection[:200], "no GeoJSON"},
		{"an endless feature", "b.geojson", `{"features": [{"properties": {"a": "` + strings.Repeat("a", 9<<20), "runs on"},
		{"a GeoPackage without a database", "b.gpkg", "", "GeoPackage"},
	}
	for _, tt := range tests {
		_, err := intake.Read(context.Background(), plainFor(t, tt.file, "lon", "lat"), files(tt.file, tt.data), &intake.Memory{}, nil)
		if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), tt.want) || len(err.Error()) > 500 {
			t.Errorf("%s: %.500v, want %q", tt.name, err, tt.want)
		}
	}
}

// bomb is a workbook of a few hundred kilobytes whose sheet unpacks to 300 MB.
func bomb(t testing.TB) string {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	sheet, err := w.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	for spaces := bytes.Repeat([]byte(" "), 1<<20); err == nil && out.Len() < 300*1100; {
		_, err = sheet.Write(spaces)
	}
	if err := errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func emptyWorkbook(t testing.TB) string {
	var out bytes.Buffer
	if err := excelize.NewFile().Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// A quote that is never closed must not swallow the rest of the file unnoticed.
func TestEndlessQuote(t *testing.T) {
	text := "no,lon,lat,depth,place,done\n1,0.1,0.1,5,,\n2,0.1,0.1,5,\"Anse,\n" + strings.Repeat("3,0.1,0.1,5,,\n", 700_000)
	_, err := intake.Read(context.Background(), plainFor(t, "b.csv", "lon", "lat"), files("b.csv", text), &intake.Memory{}, nil)
	if err == nil || !strings.Contains(err.Error(), "quote") {
		t.Errorf("%v", err)
	}
}

// A delimiter or an encoding that the mapping does not give is guessed, and told.
func TestGuessesAreTold(t *testing.T) {
	const text = "no;lon;lat;depth;place;done\n1;0.1;0.1;5;Côte d'Été;\n2;0.1;0.1;5;São João;\n"
	in := func(e *charmap.Charmap) string { s, _ := e.NewEncoder().String(text); return s }
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name, data, delimiter, encoding string
		guessed                         bool
	}{
		{"UTF-8", text, ";", "utf-8", false},
		{"with a mark", "\xef\xbb\xbf" + text, ";", "utf-8", false},
		{"UTF-16", wide, ";", "utf-16", false},
		{"windows", in(charmap.Windows1252), ";", "windows-1252", true},
		{"DOS", in(charmap.CodePage850), ";", "cp850", true},
		{"tabs", strings.ReplaceAll(text, ";", "\t"), "\t", "utf-8", false},
		{"bars", strings.ReplaceAll(text, ";", "|"), "|", "utf-8", false},
		{"commas", strings.ReplaceAll(text, ";", ","), ",", "utf-8", false},
		{"commas within quotes", strings.ReplaceAll(text, "Côte d'Été", `"a,b,c,d,e,f"`), ";", "utf-8", false},
	}
	for _, tt := range tests {
		bag, got := readAll(t, plainFor(t, "b.csv", "lon", "lat"), files("b.csv", tt.data))
		how := got.Files[0]
		if how.Delimiter != tt.delimiter || how.Encoding != tt.encoding || how.Guessed != tt.guessed || (len(how.Preview) > 0) != tt.guessed {
			t.Errorf("%s: read as %+v", tt.name, how)
		}
		if len(bag.Bores) != 2 || bag.Bores[1].Place != "São João" {
			t.Errorf("%s: %+v", tt.name, bag.Bores)
		}
		if tt.guessed && !slices.Contains(how.Preview, "1;0.1;0.1;5;Côte d'Été;") {
			t.Errorf("%s: %q shows nothing of the guess", tt.name, how.Preview)
		}
	}
}

func fuzzFile(f *testing.F, name, lon, lat string) {
	m, known := plainFor(f, name, lon, lat), intake.Known{Words: soil.DefaultReader()}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return // larger than a seed needs to be
		}
		var bag intake.Memory
		got, err := intake.ReadWith(context.Background(), known, m, fstest.MapFS{name: {Data: data}}, &bag, nil)
		if err == nil && (got.Rows != got.Applied+got.Rejected || len(bag.Bores) != got.Applied) {
			t.Errorf("%+v with %d bores", got, len(bag.Bores))
		}
	})
}

func FuzzWorkbook(f *testing.F) {
	f.Add(workbook(f))
	f.Add([]byte("PK\x03\x04"))
	fuzzFile(f, "b.xlsx", "lon", "lat")
}

func FuzzGeoJSON(f *testing.F) {
	f.Add([]byte(collection))
	f.Add([]byte(`{"features":[{"geometry":{"type":"Point","coordinates":["a",1e999]}}]}`))
	fuzzFile(f, "b.geojson", "geometry.lon", "geometry.lat")
}

func FuzzText(f *testing.F) {
	f.Add([]byte("no;lon;lat;depth;place;done\n1;0,1;0.1;5;C\xf4te;\n"))
	f.Add([]byte("\xff\xfen\x00o\x00"))
	f.Add([]byte("\"\n\r;|,\t"))
	fuzzFile(f, "b.csv", "lon", "lat")
}
