package publish_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/outside"
	"waterstrike/geo/publish"

	"github.com/xuri/excelize/v2"
)

func asCode(c geo.Code) string { return string(c) }

func workbook(t *testing.T, g ground) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := publish.XLSX(context.Background(), &out, g, asCode); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func opened(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// Every cell of every sheet says what the table in CSV says: numbers as numbers, words
// without the quote that guards them there.
func TestXLSXEqualsCSV(t *testing.T) {
	f := opened(t, workbook(t, invented()))
	checked := 0
	for name, write := range tables {
		want := cells(t, written(t, write, invented()))
		rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
		if err != nil || len(rows) != len(want)+1 {
			t.Errorf("%s: %d rows, want %d, %v", name, len(rows), len(want)+1, err)
			continue
		}
		for i, row := range rows[1:] {
			for j, column := range rows[0] {
				got := ""
				if j < len(row) {
					got = row[j]
				}
				if !sameCell(got, want[i][column]) {
					t.Errorf("%s, row %d, %s: %q, want %q", name, i+1, column, got, want[i][column])
				}
				checked++
			}
		}
	}
	if checked < 2000 {
		t.Errorf("only %d cells", checked)
	}
}

// sameCell compares a cell of a sheet with one of CSV.
func sameCell(sheet, csv string) bool {
	x, err := strconv.ParseFloat(sheet, 64)
	y, err2 := strconv.ParseFloat(csv, 64)
	if err == nil && err2 == nil {
		return x == y
	}
	yes := map[string]string{"1": "true", "0": "false", "TRUE": "true", "FALSE": "false"}
	lines := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace
	return lines(sheet) == lines(unguarded(csv)) || yes[sheet] == csv && csv != ""
}

// The sheet of columns has a row for each column of each sheet, and the catalogue has
// words for each code, in the file itself.
func TestXLSXExplainsEveryColumn(t *testing.T) {
	f := opened(t, workbook(t, ground{}))
	rows, err := f.GetRows("columns")
	if err != nil {
		t.Fatal(err)
	}
	catalogue := map[string]json.RawMessage{}
	files, _ := filepath.Glob(filepath.Join("..", "..", "ui", "say", "catalogue", "*.json"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &catalogue); err != nil {
			t.Fatal(err)
		}
	}
	told := map[string]string{}
	for i, row := range rows {
		if i > 0 {
			told[row[0]] += row[1] + ","
		}
		for _, cell := range row {
			if strings.Contains(cell, ".") && catalogue[cell] == nil {
				t.Errorf("no words for %s", cell)
			}
		}
	}
	for name := range tables {
		heads, err := f.GetRows(name)
		if err != nil || len(heads) != 1 || strings.Join(heads[0], ",")+"," != told[name] {
			t.Errorf("%s: heads %v, told %s", name, heads, told[name])
		}
	}
}

// The same records give the same bytes, and words that look like a formula stay words.
func TestXLSXIsPlain(t *testing.T) {
	g := ground{villages: []geo.Village{{ID: geo.VillageID(id(1)), Name: "=1+2", Position: reading(0.1, 0.2)}}}
	if !bytes.Equal(workbook(t, g), workbook(t, g)) {
		t.Error("two workbooks of the same records differ")
	}
	f := opened(t, workbook(t, g))
	if formula, err := f.GetCellFormula("villages", "B2"); err != nil || formula != "" {
		t.Errorf("formula %q, %v", formula, err)
	}
	if kind, err := f.GetCellType("villages", "B2"); err != nil || kind != excelize.CellTypeInlineString {
		t.Errorf("type %v, %v", kind, err)
	}
	g.villages[0].Name = strings.Repeat("x", 40_000)
	if err := publish.XLSX(context.Background(), &bytes.Buffer{}, g, asCode); geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), "publish.cell-too-long") {
		t.Errorf("too long for a cell: %v", err)
	}
	if err := publish.XLSX(context.Background(), failing{}, g, asCode); err == nil {
		t.Error("a full disk gave no error")
	}
}

// An office program opens the workbook, and every sheet of it has the rows of the table:
// the same ids in the same order.
func TestXLSXInAnOfficeProgram(t *testing.T) {
	office := outside.Program(t, "soffice", "libreoffice-calc-nogui")
	folder := t.TempDir()
	path := filepath.Join(folder, "records.xlsx")
	if err := os.WriteFile(path, workbook(t, invented()), 0o600); err != nil {
		t.Fatal(err)
	}
	// Comma, double quote, UTF-8, and the last value: every sheet into a file of its own.
	cmd := exec.CommandContext(t.Context(), office, "-env:UserInstallation=file://"+folder+"/profile", "--headless", "--convert-to",
		"csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1", "--outdir", folder, path)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for name, write := range tables {
		data, err := os.ReadFile(filepath.Join(folder, "records-"+name+".csv"))
		if err != nil {
			t.Error(err)
			continue
		}
		got, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		want := cells(t, written(t, write, invented()))
		if err != nil || len(got) != len(want)+1 {
			t.Errorf("%s: %d rows, want %d and a head: %v", name, len(got), len(want), err)
			continue
		}
		first := got[0][0]
		for i, row := range got[1:] {
			if row[0] != want[i][first] {
				t.Errorf("%s, row %d: %s %q, want %q", name, i+1, first, row[0], want[i][first])
			}
		}
	}
}

// GDAL reads the workbook by a reader of its own.
func TestXLSXInAnotherReader(t *testing.T) {
	ogrinfo := outside.Program(t, "ogrinfo", "gdal-bin")
	path := filepath.Join(t.TempDir(), "records.xlsx")
	if err := os.WriteFile(path, workbook(t, invented()), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, write := range tables {
		want := max(1, len(cells(t, written(t, write, invented())))) // heads alone are read as a row
		cmd := exec.Command(ogrinfo, "-ro", "-so", path, name)
		cmd.Env = append(os.Environ(), "OGR_XLSX_HEADERS=FORCE")
		out, err := cmd.CombinedOutput()
		if err != nil || !strings.Contains(string(out), "Feature Count: "+strconv.Itoa(want)+"\n") {
			t.Errorf("%s: %v, want %d rows in %s", name, err, want, out)
		}
	}
}
