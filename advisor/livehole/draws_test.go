package livehole

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// packed is the pack of the vectors.
func packed(t *testing.T) *Pack {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "livehole", "pack.json"))
	if err != nil {
		t.Fatal(err)
	}
	p := new(Pack)
	if err := json.Unmarshal(data, p); err != nil {
		t.Fatal(err)
	}
	return p
}

// The dynamic program gives what columns drawn one by one give, within three standard
// errors, when it follows every hole apart and every state to its end. What a pack's weights
// leave out of that for an answer in time costs less than a hundredth. The draws know nothing
// of bins: a chance also differs by what bins cost, which the last bound names.
func TestDraws(t *testing.T) {
	p, whole := packed(t), packed(t)
	whole.Weights.Apart, whole.Weights.Least = 0, 0
	n := 20_000
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		n = 1_000_000
	}
	log := Log{Schema: LogSchema, Method: "auger", Month: 5, DepthM: 2, Layers: []Layer{{0, 2, soil.Clay, geo.Opt[float64]{}}}}
	for _, l := range []Log{{Schema: LogSchema, Method: "auger", Month: 5}, log} {
		h := l.cut()
		looks := p.looks(&l, &h)
		for i := range p.Methods {
			m := &p.Methods[i]
			got := p.more(m, p.drill(m, &h, l.Month, looks), h.cells, p.Cells)
			all := whole.more(m, whole.drill(m, &h, l.Month, looks), h.cells, p.Cells)
			binned, unbinned, cost := drawn(p, m, &h, looks, n)
			se := math.Sqrt(all.Chance * (1 - all.Chance) / float64(n))
			if math.Abs(binned-all.Chance) > 3*se {
				t.Errorf("%s at %d cells: chance %.4f, of %d draws %.4f", m.Code, h.cells, all.Chance, n, binned)
			}
			if math.Abs(got.Chance-all.Chance) > 0.01 {
				t.Errorf("%s at %d cells: chance %.4f with what the weights leave out, %.4f without", m.Code, h.cells, got.Chance, all.Chance)
			}
			if math.Abs(unbinned-got.Chance) > 3*se+0.03 {
				t.Errorf("%s at %d cells: chance %.4f, without bins %.4f", m.Code, h.cells, got.Chance, unbinned)
			}
			if math.Abs(cost-got.Cost) > 0.05*got.Cost+3*se*got.Cost {
				t.Errorf("%s at %d cells: cost %.2f, of draws %.2f", m.Code, h.cells, got.Cost, cost)
			}
			t.Logf("%s at %d cells: chance %.4f, with nothing left out %.4f, drawn with bins %.4f, without %.4f",
				m.Code, h.cells, got.Chance, all.Chance, binned, unbinned)
		}
	}
}

// drawn draws columns of the pooled chains and drills them, with bins that a body falls
// into by chance and without.
func drawn(p *Pack, m *Method, h *hole, looks []outlook, n int) (binned, whole, cost float64) {
	rng := rand.New(rand.NewPCG(3, 4))
	d := dug{pack: p, method: m, hole: h}
	levels := make([]float64, len(looks))
	for i := range looks {
		levels[i] = looks[i].weight
	}
	column := make([]int, p.Cells)
	for range n {
		i := pickOf(levels, rng)
		d.today, d.design = p.Level.Today[4][i], p.Level.Design[i]
		d.cell = p.Yield.Cell[rng.IntN(len(p.Yield.Cell))]
		copy(column, h.named)
		for z := h.cells - 1; z < p.Cells; z++ {
			switch {
			case z < 0:
			case z == h.cells-1:
				column[z] = pickOf(looks[i].bottom[:], rng)
			case z == 0:
				column[z] = pickOf(looks[i].odds[0][:], rng)
			default:
				column[z] = pickOf(looks[i].steps[z][column[z-1]][:], rng)
			}
		}
		if h.cells > 0 && m.Cross[column[h.cells-1]] == 0 {
			continue // the method cannot stand there
		}
		e := d.walk(column)
		cost += e.cost / float64(n)
		if e.works {
			whole += 1 / float64(n)
		}
		d.rng = rng
		if d.walk(column).works {
			binned += 1 / float64(n)
		}
		d.rng = nil
	}
	return binned, whole, cost
}

func pickOf(shares []float64, rng *rand.Rand) int {
	u := rng.Float64()
	for i, p := range shares {
		if u -= p; u < 0 {
			return i
		}
	}
	return len(shares) - 1
}
