package near_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor/near"
)

type places struct{ x, y []float64 }

// layouts are point sets of every kind that a tree may find awkward.
func layouts(n int) map[string]places {
	r := rand.New(rand.NewPCG(21, 2))
	out := map[string]places{}
	for name, at := range map[string]func(i int) (x, y float64){
		"uniform": func(int) (float64, float64) { return 1e5 * r.Float64(), 1e5 * r.Float64() },
		"clusters": func(i int) (float64, float64) {
			return float64(i%7)*1e6 + r.NormFloat64(), float64(i%3)*1e6 + r.NormFloat64()
		},
		"lattice with ties":   func(i int) (float64, float64) { return float64(i % 20), float64(i / 20) },
		"line":                func(i int) (float64, float64) { return float64(i), 0 },
		"ten places":          func(i int) (float64, float64) { return float64(i % 10), 0 },
		"one place":           func(int) (float64, float64) { return 3, 4 },
		"neighbouring floats": func(i int) (float64, float64) { return 1 + float64(i%3)*0x1p-52, 1 + float64(i%2)*0x1p-52 },
	} {
		var p places
		for i := range n {
			x, y := at(i)
			p.x, p.y = append(p.x, x), append(p.y, y)
		}
		out[name] = p
	}
	return out
}

func (p places) d2(i int, x, y float64) float64 { return (p.x[i]-x)*(p.x[i]-x) + (p.y[i]-y)*(p.y[i]-y) }

// linear is the oracle: all distances, sorted, ties by index.
func (p places) linear(x, y float64, most, skip, before int, limit2 float64) []int {
	var ids []int
	for i := range p.x {
		if i != skip && i < before && p.d2(i, x, y) <= limit2 {
			ids = append(ids, i)
		}
	}
	slices.SortStableFunc(ids, func(a, b int) int { return cmp.Compare(p.d2(a, x, y), p.d2(b, x, y)) })
	return ids[:min(most, len(ids))]
}

func indices(t *near.Tree, found []near.Found) []int {
	var out []int
	for _, f := range found {
		out = append(out, t.Order()[f.At])
	}
	return out
}

func TestNearestIsLinearScan(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 13, 400} {
		for name, p := range layouts(n) {
			tree := near.NewTree(p.x, p.y)
			q := tree.Query()
			for k := range 60 {
				at := r.IntN(n)
				x, y, skip, limit2 := p.x[at], p.y[at], -1, math.Inf(1)
				if k%2 == 0 {
					x, y = x+30*r.NormFloat64(), y+30*r.NormFloat64()
				}
				if k%3 == 0 {
					limit2 = math.Pow(50*r.Float64(), 2)
				}
				if k%5 == 0 {
					skip = at
				}
				most := r.IntN(40)
				got := indices(tree, q.Nearest(x, y, most, skip, limit2))
				if want := p.linear(x, y, most, skip, n, limit2); !slices.Equal(got, want) {
					t.Fatalf("%s, %d points: %v, want %v", name, n, got, want)
				}
			}
		}
	}
}

func TestEarlierIsLinearScan(t *testing.T) {
	for name, p := range layouts(400) {
		tree := near.NewTree(p.x, p.y)
		q := tree.Query()
		for i := range p.x {
			got := indices(tree, q.Earlier(p.x[i], p.y[i], 12, i))
			if want := p.linear(p.x[i], p.y[i], 12, -1, i, math.Inf(1)); !slices.Equal(got, want) {
				t.Fatalf("%s, before %d: %v, want %v", name, i, got, want)
			}
			limit2 := float64(i * i)
			within := tree.EarlierWithin(p.x[i], p.y[i], i, limit2)
			want := p.linear(p.x[i], p.y[i], i, -1, i, limit2)
			slices.Sort(within)
			slices.Sort(want)
			if !slices.Equal(within, want) {
				t.Fatalf("%s, before %d within: %v, want %v", name, i, within, want)
			}
		}
	}
}

func TestNoPoints(t *testing.T) {
	if got := near.NewTree(nil, nil).Query().Nearest(0, 0, 5, -1, math.Inf(1)); len(got) != 0 {
		t.Error(got)
	}
	if got := near.FarthestFirst(nil, nil); len(got) != 0 {
		t.Error(got)
	}
}

// The oracle recomputes every distance at every step.
func TestFarthestFirstIsGreedy(t *testing.T) {
	for name, p := range layouts(300) {
		order := near.FarthestFirst(p.x, p.y)
		taken := make([]bool, len(p.x))
		gap := make([]float64, len(p.x))
		for i := range gap {
			gap[i] = math.Inf(1)
		}
		for k, i := range order {
			if taken[i] {
				t.Fatalf("%s: %d taken twice", name, i)
			}
			taken[i] = true
			for j := range gap {
				if k > 0 && (!taken[j] && (gap[j] > gap[i] || gap[j] == gap[i] && j < i)) {
					t.Fatalf("%s, step %d: took %d at %g, but %d at %g", name, k, i, gap[i], j, gap[j])
				}
			}
			for j := range gap {
				gap[j] = min(gap[j], p.d2(j, p.x[i], p.y[i]))
			}
		}
		if len(order) != len(p.x) {
			t.Errorf("%s: %d of %d taken", name, len(order), len(p.x))
		}
	}
}

// Five villages on a road: the middle one, then the two ends, then between.
func ExampleFarthestFirst() {
	fmt.Println(near.FarthestFirst([]float64{0, 10, 20, 30, 40}, make([]float64, 5)))
	// Output: [2 0 4 1 3]
}

func BenchmarkFarthestFirst(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := rand.New(rand.NewPCG(5, 5))
			x, y := make([]float64, n), make([]float64, n)
			for i := range x {
				x[i], y[i] = r.Float64(), r.Float64()
			}
			for b.Loop() {
				near.FarthestFirst(x, y)
			}
		})
	}
}
