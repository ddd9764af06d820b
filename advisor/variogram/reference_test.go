package variogram_test

import (
	"math"
	"testing"

	"waterstrike/advisor/variogram"
	"waterstrike/geo/outside"
)

// table is a file of testdata/reference.
type table struct{ outside.Table }

func reference(t *testing.T, name string) table {
	t.Helper()
	return table{outside.ReadTable(t, outside.Reference(t, name))}
}

func (tab table) points() []variogram.XY {
	out := make([]variogram.XY, len(tab.Rows))
	for i := range out {
		out[i] = variogram.XY{X: tab.Number(i, "x"), Y: tab.Number(i, "y")}
	}
	return out
}

// meuse returns positions, log zinc and the square root of the distance column.
func meuse(t *testing.T) (points []variogram.XY, logZinc, sqrtDist []float64) {
	t.Helper()
	tab := reference(t, "meuse/meuse.csv")
	sqrtDist = tab.Column("dist")
	for i, d := range sqrtDist {
		sqrtDist[i] = math.Sqrt(d)
	}
	return tab.points(), tab.Column("logzinc"), sqrtDist
}

func relative(got, want float64) float64 {
	return math.Abs(got-want) / math.Max(1e-300, math.Abs(want))
}
