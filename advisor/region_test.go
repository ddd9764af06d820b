package advisor_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"

	"pgregory.net/rapid"
)

// memory is a source of records held in a slice.
type memory struct {
	bores []geo.Bore
	seq   int64
}

func (m *memory) Seq(context.Context) (int64, error) { return m.seq, nil }

func (m *memory) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for _, b := range m.bores {
		if err := fn(b); err != nil {
			return err
		}
	}
	return nil
}

func (m *memory) ChangedSince(_ context.Context, seq int64) ([]geo.BoreID, int64, error) {
	var ids []geo.BoreID
	for _, b := range m.bores[seq:] {
		ids = append(ids, b.ID)
	}
	return ids, m.seq, nil
}

func (m *memory) BoresByID(_ context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error {
	for _, b := range m.bores {
		if slices.Contains(ids, b.ID) {
			if err := fn(b); err != nil {
				return err
			}
		}
	}
	return nil
}

// region is a valley of sand under clay in the west with water at 4 m, and an upland of
// crust over rock in the east with water at 25 m.
func region(t testing.TB, n int) *memory {
	t.Helper()
	rng := rand.New(rand.NewPCG(11, 12))
	m := &memory{}
	for i := range n {
		lon := rng.Float64() * 0.4
		b := geo.Bore{
			ID:        geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012x", i)),
			Code:      fmt.Sprintf("B-%03d", i),
			Position:  geo.Some(coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: rng.Float64() * 0.4}}),
			Completed: geo.Some(geo.Date{Year: 2015, Month: 1 + rng.IntN(12), Day: 10}),
		}
		if lon < 0.2 {
			valley(&b, rng)
		} else {
			upland(&b, rng)
		}
		checked, err := geo.NewBore(b)
		if err != nil {
			t.Fatal(err)
		}
		m.bores = append(m.bores, checked)
	}
	m.seq = int64(n)
	return m
}

func valley(b *geo.Bore, rng *rand.Rand) {
	clay := 2 + 2*rng.Float64()
	b.Method, b.Outcome, b.DepthM = "sludging", geo.Producing, geo.Some(14.0)
	b.Layers = []geo.Layer{
		{TopM: 0, BaseM: clay, Class: soil.Clay, Confidence: 1},
		{TopM: clay, BaseM: 14, Class: soil.Sand, Grade: soil.Medium, Confidence: 1},
	}
	b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(4 * math.Exp(0.15*rng.NormFloat64()))}}
}

func upland(b *geo.Bore, rng *rand.Rand) {
	crust := 3 + rng.Float64()
	b.Layers = []geo.Layer{
		{TopM: 0, BaseM: 1, Class: soil.Topsoil, Confidence: 1},
		{TopM: 1, BaseM: 1 + crust, Class: soil.Hardpan, Confidence: 1},
		{TopM: 1 + crust, BaseM: 12, Class: soil.WeatheredRock, Confidence: 1},
	}
	b.Method, b.Outcome, b.DepthM = "percussion", geo.Refused, geo.Some(12.0)
	if rng.Float64() < 0.3 { // a machine went on
		b.Method, b.Outcome, b.DepthM = geo.MethodMachine, geo.Producing, geo.Some(45.0)
		b.Layers = append(b.Layers, geo.Layer{TopM: 12, BaseM: 45, Class: soil.Rock, Confidence: 1})
		b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(25 * math.Exp(0.15*rng.NormFloat64()))}}
	}
}

func newAdvisor(t rapid.TB, src evidence.Source) *advisor.Advisor {
	t.Helper()
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	return advisorOf(t, src, rules)
}

func advisorOf(t rapid.TB, src evidence.Source, rules advisor.Rules) *advisor.Advisor {
	t.Helper()
	snapshot, err := evidence.Load(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	a, err := advisor.New(context.Background(), snapshot, rules, "test")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func advise(t rapid.TB, a *advisor.Advisor, lon, lat float64) advisor.Advice {
	t.Helper()
	out, err := a.Advise(context.Background(), advisor.Question{At: coord.LonLat{Lon: lon, Lat: lat}, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
