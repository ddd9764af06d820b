package publish_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"waterstrike/geo"
	"waterstrike/geo/publish"
)

// tables are the writers of CSV, by name without its ending.
var tables = byName(publish.CSVFiles())

func byName(files []publish.File) map[string]func(context.Context, io.Writer, publish.Source) error {
	out := map[string]func(context.Context, io.Writer, publish.Source) error{}
	for _, f := range files {
		out[strings.TrimSuffix(f.Name, path.Ext(f.Name))] = f.Write
	}
	return out
}

// TestCSVRules holds every table to the rules of RFC 4180, section 2.
func TestCSVRules(t *testing.T) {
	for name, write := range tables {
		data := written(t, write, invented())
		if !utf8.Valid(data) || bytes.HasPrefix(data, []byte("\xef\xbb\xbf")) {
			t.Errorf("%s: not UTF-8 without a mark", name)
		}
		if !bytes.HasSuffix(data, []byte("\r\n")) { // rules 1 and 2
			t.Errorf("%s: ends in %q", name, data[len(data)-2:])
		}
		if bytes.Count(data, []byte("\n")) != bytes.Count(data, []byte("\r\n")) || bytes.Count(data, []byte("\r")) != bytes.Count(data, []byte("\r\n")) {
			t.Errorf("%s: line breaks other than CRLF", name)
		}
		reader := csv.NewReader(bytes.NewReader(data))
		reader.FieldsPerRecord = 0 // rule 4: as many fields in every line; rules 5 to 7 on quoting
		rows, err := reader.ReadAll()
		if err != nil || name == "layers" && len(rows) < 60 {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
		}
	}
}

func TestCSVHeaders(t *testing.T) { // rule 3: an optional header line
	for name, want := range map[string]string{
		"bores": "id,code,name,place,village_id,lon_deg,lat_deg,as_read,crs,operation,precision_m,ground_m,ground_datum,ground_source,started,completed," +
			"method,outcome,depth_m,refusal_m,yield_lps,driller,remarks,cost,currency,source_file,source_row,given_by,licence,field_sources",
		"layers": "bore_id,bore_code,top_m,base_m,words,class,grade,clayey,confidence,colour,hardness,minutes_per_m",
		"levels": "bore_id,bore_code,state,depth_m,read_on,reference_m,words",
	} {
		if got := string(written(t, tables[name], ground{})); got != want+"\r\n" {
			t.Errorf("%s: header %q", name, got)
		}
	}
}

// cells reads a table back: by row, then by the name of the column.
func cells(t *testing.T, data []byte) []map[string]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		cell := map[string]string{}
		for i, name := range rows[0] {
			cell[name] = row[i]
		}
		out = append(out, cell)
	}
	return out
}

// unguarded undoes what the package says that it does to words.
func unguarded(cell string) string { return strings.TrimPrefix(cell, "'") }

// asKept is what a text may lose: the kind of its line breaks, and bytes that are none.
func asKept(text string) string {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	return strings.ToValidUTF8(text, "\uFFFD")
}

func TestBoresCSVRoundTrip(t *testing.T) {
	g := invented()
	for i, row := range cells(t, written(t, tables["bores"], g)) {
		b := g.bores[i]
		for name, want := range map[string]string{"code": b.Code, "name": b.Name, "place": b.Place, "remarks": b.Remarks} {
			if got := unguarded(row[name]); got != asKept(want) {
				t.Errorf("bore %d: %s %q, want %q", i, name, got, want)
			}
		}
		if row["id"] != string(b.ID) || row["outcome"] != string(b.Outcome) || row["completed"] != b.Completed.Or(geo.Date{}).String() {
			t.Errorf("bore %d: %v", i, row)
		}
		sameNumber(t, row["depth_m"], b.DepthM)
		sameNumber(t, row["yield_lps"], b.YieldLPS)
		sameNumber(t, row["refusal_m"], b.RefusalM)
		if at, known := b.Position.Get(); known {
			lat, err := strconv.ParseFloat(row["lat_deg"], 64)
			if err != nil || math.Abs(lat-at.Pos.Lat) > 0.5e-7+1e-12 || row["as_read"] != "'-0.1, 0.2" { // half the last decimal
				t.Errorf("bore %d: latitude %q, want %v", i, row["lat_deg"], at.Pos.Lat)
			}
		} else if row["lon_deg"] != "" || row["precision_m"] != "" || row["source_row"] != "" || row["ground_m"] != "" {
			t.Errorf("bore %d: %v", i, row)
		}
	}
}

// sameNumber also tells missing (empty) from 0.
func sameNumber(t *testing.T, cell string, want geo.Opt[float64]) {
	t.Helper()
	v, known := want.Get()
	if !known {
		if cell != "" {
			t.Errorf("%q where nothing is known", cell)
		}
		return
	}
	if got, err := strconv.ParseFloat(cell, 64); err != nil || got != v {
		t.Errorf("%q, want %v", cell, v)
	}
}

func TestPartsCSVRoundTrip(t *testing.T) {
	g := invented()
	layers, levels := cells(t, written(t, tables["layers"], g)), cells(t, written(t, tables["levels"], g))
	for _, b := range g.bores {
		for _, l := range b.Layers {
			row := layers[0]
			layers = layers[1:]
			if row["bore_id"] != string(b.ID) || unguarded(row["words"]) != asKept(l.Words) || row["class"] != l.Class.String() ||
				unguarded(row["colour"]) != asKept(l.Colour) || unguarded(row["hardness"]) != asKept(l.Hardness) || row["grade"] != l.Grade.String() || row["clayey"] != strconv.FormatBool(l.Clayey) {
				t.Errorf("layer %v of %s", row, b.ID)
			}
			sameNumber(t, row["top_m"], geo.Some(l.TopM))
			sameNumber(t, row["base_m"], geo.Some(l.BaseM))
			sameNumber(t, row["confidence"], geo.Some(l.Confidence))
			sameNumber(t, row["minutes_per_m"], l.MinutesPerM)
		}
		for _, l := range b.Levels {
			row := levels[0]
			levels = levels[1:]
			if row["bore_id"] != string(b.ID) || row["state"] != string(l.State) || row["read_on"] != l.On.Or(geo.Date{}).String() || unguarded(row["words"]) != asKept(l.Words) {
				t.Errorf("level %v of %s", row, b.ID)
			}
			sameNumber(t, row["depth_m"], l.DepthM)
			sameNumber(t, row["reference_m"], l.ReferenceM)
		}
	}
	if len(layers) != 0 || len(levels) != 0 {
		t.Errorf("%d layers and %d levels too many", len(layers), len(levels))
	}
}

// The hazard is public knowledge (CWE-1236, improper neutralization of formula elements
// in a CSV file); the characters are the ones that CWE names and the tab and line breaks
// that spreadsheets skip (common practice, no source).
func TestCSVFormulas(t *testing.T) {
	list := make([]geo.Bore, len(awkward))
	for i, text := range awkward {
		list[i] = geo.Bore{ID: geo.BoreID(id(i)), Code: text, Method: geo.Method(text), DepthM: geo.Some(3.5), Ground: geo.Some(geo.Elevation{M: -12.5, Datum: text})}
	}
	for i, row := range cells(t, written(t, tables["bores"], ground{bores: list})) {
		for name, cell := range row {
			if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r\n") && name != "ground_m" {
				t.Errorf("%q: %s is %q", awkward[i], name, cell)
			}
		}
		if row["ground_m"] != "-12.5" || row["depth_m"] != "3.5" {
			t.Errorf("a number was touched: %q, %q", row["ground_m"], row["depth_m"])
		}
		if unguarded(row["code"]) != asKept(awkward[i]) {
			t.Errorf("%q comes back as %q", awkward[i], unguarded(row["code"]))
		}
	}
}

func FuzzWords(f *testing.F) {
	for _, text := range awkward {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1000 {
			return
		}
		g := ground{bores: []geo.Bore{{ID: geo.BoreID(id(1)), Remarks: text}}}
		if got := unguarded(cells(t, written(t, tables["bores"], g))[0]["remarks"]); got != asKept(text) {
			t.Errorf("%q comes back from CSV as %q", text, got)
		}
		if got, _ := features(t, written(t, maps["bores"], g))[0].Properties["remarks"].(string); got != strings.ToValidUTF8(text, "\uFFFD") {
			t.Errorf("%q comes back from GeoJSON as %q", text, got)
		}
	})
}

func TestCSVPassesErrorsOn(t *testing.T) {
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	bad := bores(2)[1:]
	bad[0].DepthM, bad[0].Layers[0].BaseM, bad[0].Levels[1].DepthM = geo.Some(math.NaN()), math.Inf(1), geo.Some(math.NaN())
	for name, write := range tables {
		if err := write(t.Context(), failing{}, ground{}); !errors.Is(err, errFull) {
			t.Errorf("%s, full disk: %v", name, err)
		}
		if err := write(gone, io.Discard, invented()); !errors.Is(err, context.Canceled) {
			t.Errorf("%s, cancelled: %v", name, err)
		}
		if !slices.Contains([]string{"bores", "layers", "levels"}, name) {
			continue
		}
		if err := write(t.Context(), io.Discard, ground{bores: bad}); err == nil || !strings.Contains(err.Error(), id(1)) {
			t.Errorf("%s, not finite: %v", name, err)
		}
	}
}

func TestSameBytes(t *testing.T) {
	for _, writers := range []map[string]func(context.Context, io.Writer, publish.Source) error{maps, tables} {
		for name, write := range writers {
			first := slices.Clone(written(t, write, invented()))
			if !bytes.Equal(first, written(t, write, invented())) {
				t.Errorf("%s: the same records give other bytes", name)
			}
		}
	}
}
