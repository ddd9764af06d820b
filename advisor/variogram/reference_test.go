package variogram_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"waterstrike/advisor/variogram"
)

// table is a CSV file with a header; see testdata/reference/README.md for origins.
type table struct {
	t    *testing.T
	name string
	rows []map[string]string
}

func reference(t *testing.T, name string) table {
	t.Helper()
	return readTable(t, filepath.Join("..", "..", "testdata", "reference", name))
}

func readTable(t *testing.T, name string) table {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	tab := table{t: t, name: name}
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, v := range line {
			row[lines[0][i]] = v
		}
		tab.rows = append(tab.rows, row)
	}
	return tab
}

func (tab table) number(row int, col string) float64 {
	tab.t.Helper()
	v, err := strconv.ParseFloat(tab.rows[row][col], 64)
	if err != nil {
		tab.t.Fatalf("%s row %d column %s: %v", tab.name, row, col, err)
	}
	return v
}

func (tab table) column(col string) []float64 {
	tab.t.Helper()
	out := make([]float64, len(tab.rows))
	for i := range out {
		out[i] = tab.number(i, col)
	}
	return out
}

func (tab table) points() []variogram.XY {
	tab.t.Helper()
	out := make([]variogram.XY, len(tab.rows))
	for i := range out {
		out[i] = variogram.XY{X: tab.number(i, "x"), Y: tab.number(i, "y")}
	}
	return out
}

// meuse returns positions, log zinc and the square root of the distance column.
func meuse(t *testing.T) (points []variogram.XY, logZinc, sqrtDist []float64) {
	t.Helper()
	tab := reference(t, "meuse/meuse.csv")
	sqrtDist = tab.column("dist")
	for i, d := range sqrtDist {
		sqrtDist[i] = math.Sqrt(d)
	}
	return tab.points(), tab.column("logzinc"), sqrtDist
}

func relative(got, want float64) float64 {
	return math.Abs(got-want) / math.Max(1e-300, math.Abs(want))
}
