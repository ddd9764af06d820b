package main

import (
	"context"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/url"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/store"
	"waterstrike/server/features"
)

// based is a live base of invented records.
func based(t testing.TB, bores []geo.Bore, villages []geo.Village, points []geo.WaterPoint) *featured {
	t.Helper()
	base, err := store.Create(filepath.Join(t.TempDir(), "ground.gpkg"), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { base.Close() })
	why := store.Why{Who: "test"}
	for _, b := range bores {
		if err := base.SaveBore(t.Context(), b, why); err != nil {
			t.Fatal(err)
		}
	}
	for _, v := range villages {
		if err := base.SaveVillage(t.Context(), v, why); err != nil {
			t.Fatal(err)
		}
	}
	for _, w := range points {
		if err := base.SaveWaterPoint(t.Context(), w, why); err != nil {
			t.Fatal(err)
		}
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	l, err := newLive(t.Context(), base, nil, rules, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	return &featured{live: l}
}

// Features are what the base holds: every record once, in the order of their ids, however
// pages and boxes cut them.
func TestFeaturesAreTheBase(t *testing.T) {
	all := demoland.New(11).Records()
	f := based(t, all.Bores[:9], all.Villages[:7], all.Points[:6])
	layers := 0
	for _, b := range all.Bores[:9] {
		layers += len(b.Layers)
	}
	for name, want := range map[string]int{boreFeatures: 9, layerFeatures: layers, villageFeatures: 7, pointFeatures: 6} {
		whole, total, err := f.Select(t.Context(), name, nil, nil, 0, 1000)
		if err != nil || total != want || len(whole) != want {
			t.Errorf("%s: %d of %d, want %d (%v)", name, len(whole), total, want, err)
		}
		box, there, err := f.Extent(t.Context(), name)
		if err != nil || !there {
			t.Errorf("%s: no extent (%v)", name, err)
		}
		var paged []string
		for from := 0; from < want; from += 4 {
			page, total, err := f.Select(t.Context(), name, &box, nil, from, 4)
			if err != nil || total != want {
				t.Errorf("%s from %d: %d (%v)", name, from, total, err)
			}
			for _, x := range page {
				paged = append(paged, x.ID)
			}
		}
		for i, x := range whole {
			if i >= len(paged) || paged[i] != x.ID {
				t.Fatalf("%s: pages hold %v", name, paged)
			}
			one, err := f.Find(t.Context(), name, x.ID)
			if err != nil || one.ID != x.ID || fmt.Sprint(one.Values) != fmt.Sprint(x.Values) {
				t.Errorf("%s: %s alone is %+v (%v)", name, x.ID, one, err)
			}
			for _, c := range f.Collections() {
				if c.Name == name && len(c.Properties) != len(x.Values) {
					t.Errorf("%s: %d values for %d properties", name, len(x.Values), len(c.Properties))
				}
			}
		}
		if _, err := f.Find(t.Context(), name, "none"); geo.KindOf(err) != geo.NotFound {
			t.Errorf("%s: a feature that is none: %v", name, err)
		}
	}
	keep := func(x *features.Feature) bool { return x.ID > "1" }
	some, total, err := f.Select(t.Context(), boreFeatures, nil, keep, 0, 2)
	if err != nil || len(some) != 2 || total != features.Unknown {
		t.Errorf("a page with more behind it: %d of %d (%v)", len(some), total, err)
	}
	if rest, total, _ := f.Select(t.Context(), boreFeatures, nil, keep, 2, 9); total != 2+len(rest) {
		t.Errorf("the last page: %d of %d", len(rest), total)
	}
	first := all.Bores[0]
	x, err := f.Find(t.Context(), boreFeatures, string(first.ID))
	if err != nil || x.At != first.Position.Or(coord.Reading{}).Pos.Point() || x.Values[2] != string(first.Outcome) || x.On != first.Completed.Or(geo.Date{}) {
		t.Errorf("%+v is not %+v (%v)", x, first, err)
	}
}

// many is a source of bores spread evenly over a square degree, every tenth of them dry.
type many int

func (many) Seq(context.Context) (int64, error) { return 1, nil }

func (n many) Bores(_ context.Context, fn func(geo.Bore) error) error {
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range int(n) {
		b := geo.Bore{
			ID: geo.BoreID(fmt.Sprintf("%08x-0000-4000-8000-000000000000", i)), Code: fmt.Sprint("B-", i), Method: "auger", Outcome: geo.Producing,
			Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: rng.Float64(), Lat: rng.Float64()}}), DepthM: geo.Some(12.5),
			Completed: geo.Some(geo.Date{Year: 2019, Month: 5, Day: 2}),
		}
		if i%10 == 0 {
			b.Outcome = geo.Dry
		}
		if err := fn(b); err != nil {
			return err
		}
	}
	return nil
}

func (many) ChangedSince(context.Context, int64) ([]geo.BoreID, int64, error) { return nil, 1, nil }

func (many) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error { return nil }

func manyBores(b *testing.B, n int) *featured {
	b.Helper()
	first, err := evidence.NewLive(b.Context(), many(n), nil)
	if err != nil {
		b.Fatal(err)
	}
	return &featured{live: &live{evidence: first}}
}

func valuesOf(query string) url.Values {
	q, _ := url.ParseQuery(query)
	return q
}

// BenchmarkFeaturePage reads a page of 1,000 of 1,000,000 bores and writes it as GeoJSON;
// beside it the same by a box of the map, and by one property.
func BenchmarkFeaturePage(b *testing.B) {
	const bores = 1_000_000
	f := manyBores(b, bores)
	api := &features.API{Source: f, Root: "http://127.0.0.1/features", Say: func(c geo.Code) string { return string(c) }}
	for _, c := range []struct{ name, query string }{{"whole", "offset=500000"}, {"box", "bbox=0.2,0.2,0.3,0.3"}, {"property", "outcome=dry"}} {
		b.Run(c.name, func(b *testing.B) {
			var took []time.Duration
			for b.Loop() {
				begin := time.Now()
				page, err := api.Items(context.Background(), boreFeatures, valuesOf("limit=1000&"+c.query), begin)
				if err != nil || len(page.Features) != 1000 {
					b.Fatal(len(page.Features), err)
				}
				if _, err := page.AppendGeoJSON(nil, false); err != nil {
					b.Fatal(err)
				}
				took = append(took, time.Since(begin))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
		})
	}
}
