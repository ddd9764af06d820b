package terrain_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/geo/terrain"
)

// noise is a rough land without ties.
func noise(t testing.TB, rows, cols int, seed uint64) *terrain.Grid {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 7))
	g := blank(t, rows, cols, 30)
	each(g.Frame, func(r, c int) { g.Set(r, c, 100+float64(r)+10*rng.NormFloat64()) })
	return g
}

// Filling never lowers a cell, and from every cell water runs off the land without ever
// rising; what passes the rim is the whole land.
func TestFlowLaws(t *testing.T) {
	for seed := range uint64(5) {
		g := noise(t, 25, 31, seed)
		f := route(t, g, noSea)
		u, err := f.Accumulate(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		left := 0.0
		each(g.Frame, func(r, c int) {
			z, _ := g.At(r, c)
			filled, ok := f.Filled(r, c)
			if !ok || filled < z-1e-4 { // 32-bit values near 100
				t.Fatalf("seed %d: cell %d,%d of %v m is filled to %v", seed, r, c, z, filled)
			}
			nextR, nextC, ok := f.Next(r, c)
			if !ok {
				left += 900 * float64(u.At(r, c))
				return
			}
			if below, _ := f.Filled(nextR, nextC); below > filled {
				t.Fatalf("seed %d: water climbs from %v to %v", seed, filled, below)
			}
			steps := 0
			for at, to, ok := nextR, nextC, true; ok; at, to, ok = f.Next(at, to) {
				if steps++; steps > g.Rows*g.Cols {
					t.Fatalf("seed %d: water runs in a ring from %d,%d", seed, r, c)
				}
			}
		})
		if whole := float64(g.Rows*g.Cols) * 900; math.Abs(left-whole) > 1e-3*whole {
			t.Errorf("seed %d: %v m² leave a land of %v", seed, left, whole)
		}
	}
}

// The distance is that to the nearest drainage cell, whatever way it is found.
func TestDistanceBruteForce(t *testing.T) {
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 9))
		g := blank(t, 23, 17, 12)
		var wet [][2]int
		d, err := terrain.DrainageOf(g.Frame, func(r, c int) bool {
			if rng.IntN(30) > 0 {
				return false
			}
			wet = append(wet, [2]int{r, c})
			return true
		})
		if err != nil {
			t.Fatal(err)
		}
		got, err := d.Distance(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		each(g.Frame, func(r, c int) {
			want := math.Inf(1)
			for _, w := range wet {
				want = min(want, 12*math.Hypot(float64(r-w[0]), float64(c-w[1])))
			}
			if at := at(t, got, r, c); math.Abs(at-want) > 1e-3 { // 32-bit values of some 100 m
				t.Fatalf("seed %d: %v m from %d,%d, want %v", seed, at, r, c, want)
			}
		})
	}
}
