package krige_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor/krige"
)

// linear is the oracle: all distances, sorted, ties by index.
func linear(data []krige.Datum, at krige.XY, most int, limit float64) []int {
	ids := make([]int, len(data))
	d2 := make([]float64, len(data))
	for i, d := range data {
		ids[i] = i
		d2[i] = (d.X-at.X)*(d.X-at.X) + (d.Y-at.Y)*(d.Y-at.Y)
	}
	slices.SortStableFunc(ids, func(a, b int) int { return cmp.Compare(d2[a], d2[b]) })
	for k, i := range ids {
		if k == most || d2[i] > limit*limit {
			return ids[:k]
		}
	}
	return ids
}

func TestSearchIsLinearScan(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 2))
	layouts := map[string]func(i int) krige.XY{
		"uniform": func(int) krige.XY { return krige.XY{X: 1e5 * r.Float64(), Y: 1e5 * r.Float64()} },
		"clusters": func(i int) krige.XY {
			return krige.XY{X: float64(i%7)*1e6 + r.NormFloat64(), Y: float64(i%3)*1e6 + r.NormFloat64()}
		},
		"lattice with ties": func(i int) krige.XY { return krige.XY{X: float64(i % 20), Y: float64(i / 20)} },
		"line":              func(i int) krige.XY { return krige.XY{X: float64(i)} },
		"ten places":        func(i int) krige.XY { return krige.XY{X: float64(i % 10)} },
		"one place":         func(int) krige.XY { return krige.XY{X: 3, Y: 4} },
		"neighbouring floats": func(i int) krige.XY {
			return krige.XY{X: 1 + float64(i%3)*0x1p-52, Y: 1 + float64(i%2)*0x1p-52}
		},
	}
	for name, place := range layouts {
		for _, n := range []int{1, 13, 400} {
			data := make([]krige.Datum, n)
			for i := range data {
				data[i] = krige.Datum{XY: place(i), ErrVar: 1}
			}
			for k := range 60 {
				at := data[r.IntN(n)].XY
				if k%2 == 0 {
					at = krige.XY{X: at.X + 30*r.NormFloat64(), Y: at.Y + 30*r.NormFloat64()}
				}
				hood := krige.Neighbourhood{Nearest: 1 + r.IntN(40)}
				limit := math.Inf(1)
				if k%3 == 0 {
					hood.DistanceM = 50 * r.Float64()
					limit = hood.DistanceM
				}
				p := local(t, data, spherical(t), krige.Ordinary{}, hood)
				want := linear(data, at, hood.Nearest, limit)
				_, err := p.Predict(at)
				if (err == nil) != (len(want) > 0) || !slices.Equal(p.Neighbours(), want) {
					t.Fatalf("%s, %d points, %+v at %v: %v, want %v, %v", name, n, hood, at, p.Neighbours(), want, err)
				}
			}
		}
	}
}

func TestNoAllocation(t *testing.T) {
	p := local(t, plain(scatter(2000, 1e5, 1)), exponential(t), krige.Ordinary{}, krige.DefaultNeighbourhood())
	at := krige.XY{X: 5e4, Y: 5e4}
	n := testing.AllocsPerRun(50, func() {
		if _, err := p.Predict(at); err != nil || len(p.Weights()) != 32 {
			t.Fatal(err)
		}
	})
	if n != 0 {
		t.Errorf("%g allocations per prediction", n)
	}
}

func ExampleLocal() {
	regional, err := exampleModel()
	if err != nil {
		fmt.Println(err)
		return
	}
	bores := []krige.Datum{
		{XY: krige.XY{X: 0, Y: 0}, Value: 6, ErrVar: 0.25},
		{XY: krige.XY{X: 2000, Y: 0}, Value: 9, ErrVar: 0.25},
		{XY: krige.XY{X: 0, Y: 3000}, Value: 7, ErrVar: 0.25},
	}
	levels, err := krige.NewLocal(bores, regional, krige.Ordinary{}, krige.DefaultNeighbourhood())
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := levels.Predictor().Predict(krige.XY{X: 500, Y: 500})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("water at %.1f m, standard deviation %.1f m\n", e.Mean, math.Sqrt(e.Variance))
	// Output:
	// water at 7.0 m, standard deviation 1.3 m
}
