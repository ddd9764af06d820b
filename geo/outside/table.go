package outside

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Table is a CSV file with a header.
type Table struct {
	Rows []map[string]string // by column
	t    testing.TB
	name string
}

// Reference returns where a file of the numbers lies that others worked out; README.md of
// that folder names their origins.
func Reference(t testing.TB, path ...string) string {
	t.Helper()
	return filepath.Join(append([]string{checkout(t), "testdata", "reference"}, path...)...)
}

// ReadTable reads a CSV file.
func ReadTable(t testing.TB, name string) Table {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close() //nolint:errcheck // only read from
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := Table{t: t, name: name}
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, v := range line {
			row[lines[0][i]] = v
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// Number returns the number in one cell; the test ends where none stands.
func (tab Table) Number(row int, column string) float64 {
	tab.t.Helper()
	v, err := strconv.ParseFloat(tab.Rows[row][column], 64)
	if err != nil {
		tab.t.Fatalf("%s row %d column %s: %v", tab.name, row, column, err)
	}
	return v
}

// Column returns the numbers of a column.
func (tab Table) Column(column string) []float64 {
	tab.t.Helper()
	out := make([]float64, len(tab.Rows))
	for i := range out {
		out[i] = tab.Number(i, column)
	}
	return out
}
