package advisor_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
	"waterstrike/geo/terrain"
)

// Records may be few, alike or piled up on one spot, and a survey may be flat: every base
// gets an answer that adds up and can be written down, or a word that it holds nothing.
func TestOddRecords(t *testing.T) {
	land := demoland.New(101)
	grid, err := land.Grid(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	survey, err := terrain.Derive(t.Context(), grid, terrain.Defaults(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for row := range grid.Rows {
		for col := range grid.Cols {
			grid.Set(row, col, 10)
		}
	}
	flat, err := terrain.Derive(t.Context(), grid, terrain.Defaults(), nil)
	if err != nil {
		t.Fatal(err)
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	all := land.Records().Bores
	for name, odd := range map[string]func(*geo.Bore){
		"as they are": func(*geo.Bore) {},
		"one spot":    func(b *geo.Bore) { b.Position = all[0].Position },
		"one line":    func(b *geo.Bore) { move(b, func(p *coord.LonLat) { p.Lat = 0.5 }) },
		"one class":   func(b *geo.Bore) { eachLayer(b, func(l *geo.Layer) { l.Class = soil.Sand }) },
		"no layers":   func(b *geo.Bore) { b.Layers = nil },
		"all dry":     func(b *geo.Bore) { eachLevel(b, func(l *geo.Level) { l.State = geo.LevelDryTo }) },
		"one level":   func(b *geo.Bore) { eachLevel(b, func(l *geo.Level) { l.DepthM = geo.Some(5.0) }) },
	} {
		for _, n := range []int{1, 41} {
			for _, shape := range []*terrain.Terrain{nil, survey, flat} {
				bores := slices.Clone(all[:n])
				for i := range bores {
					b := &bores[i]
					b.Layers, b.Levels = slices.Clone(b.Layers), slices.Clone(b.Levels)
					odd(b)
				}
				s, err := evidence.Load(t.Context(), evidencetest.Bores(bores))
				if err != nil {
					t.Fatalf("%s, %d bores: %v", name, n, err)
				}
				if shape != nil {
					s = s.On(shape)
				}
				a, err := advisor.New(t.Context(), s, rules, "test")
				if err != nil {
					t.Fatalf("%s, %d bores: %v", name, n, err)
				}
				answersAddUp(t, a, name, n, land.UniformSites(1, 1)[0], all[0].Position.Or(coord.Reading{}).Pos, coord.LonLat{Lon: -179.9, Lat: 89.9})
			}
		}
	}
}

func answersAddUp(t *testing.T, a *advisor.Advisor, name string, n int, places ...coord.LonLat) {
	t.Helper()
	for _, at := range places {
		said, err := a.Advise(t.Context(), advisor.Question{At: at, Seed: 1})
		if geo.KindOf(err) == geo.NotFound {
			continue
		}
		if err != nil {
			t.Errorf("%s, %d bores: %v", name, n, err)
		}
		if _, err := json.Marshal(said); err != nil {
			t.Errorf("%s, %d bores: %v", name, n, err)
		}
		for _, m := range said.Methods {
			sum := m.Chance
			for _, r := range m.Reasons {
				sum += r.Share
			}
			if math.Abs(sum-1) > 1e-9 || !(0 <= m.Lo && m.Lo <= m.Chance && m.Chance <= m.Hi && m.Hi <= 1) {
				t.Errorf("%s, %d bores: %+v", name, n, m)
			}
		}
	}
	if _, err := a.Surface(t.Context(), advisor.SurfaceQuestion{At: places, Seed: 1}, nil); err != nil && geo.KindOf(err) != geo.NotFound {
		t.Errorf("%s, %d bores: %v", name, n, err)
	}
	if _, err := a.Prospects(t.Context(), places, advisor.ProspectOptions{Seed: 1}, nil); err != nil && geo.KindOf(err) != geo.NotFound {
		t.Errorf("%s, %d bores: %v", name, n, err)
	}
}

func move(b *geo.Bore, to func(*coord.LonLat)) {
	if p, ok := b.Position.Get(); ok {
		to(&p.Pos)
		b.Position = geo.Some(p)
	}
}

func eachLayer(b *geo.Bore, change func(*geo.Layer)) {
	for i := range b.Layers {
		change(&b.Layers[i])
	}
}

func eachLevel(b *geo.Bore, change func(*geo.Level)) {
	for i := range b.Levels {
		change(&b.Levels[i])
	}
}
