package variogram_test

import (
	"testing"

	"waterstrike/advisor/variogram"
)

func TestMerge(t *testing.T) {
	for _, c := range []struct {
		name             string
		values, errorVar []float64
		want, wantVar    float64
	}{
		{"all exact", []float64{1, 2, 6}, nil, 3, 0},
		{"equal errors", []float64{1, 2, 6}, []float64{3, 3, 3}, 3, 1},
		{"one exact knows best", []float64{1, 2, 6}, []float64{1, 0, 1}, 2, 0},
		{"by inverse variance", []float64{0, 10}, []float64{1, 4}, 2, 0.8}, // (10/4)/(1+1/4)
		{"one", []float64{5}, []float64{0.2}, 5, 0.2},
	} {
		z, e := variogram.Merge(c.values, c.errorVar)
		if relative(z, c.want) > 1e-15 || e != c.wantVar && relative(e, c.wantVar) > 1e-15 {
			t.Errorf("%s: %g, %g, want %g, %g", c.name, z, e, c.want, c.wantVar)
		}
	}
}
