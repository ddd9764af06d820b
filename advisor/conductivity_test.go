package advisor

import (
	"context"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// held is a source of bores that never change.
type held []geo.Bore

func (h held) Seq(context.Context) (int64, error) { return 1, nil }

func (h held) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for _, b := range h {
		if err := fn(b); err != nil {
			return err
		}
	}
	return nil
}

func (h held) ChangedSince(context.Context, int64) ([]geo.BoreID, int64, error) { return nil, 1, nil }

func (h held) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error { return nil }

// Pump tests of a region's sand at five times the usual conductivity raise the chance of a
// poor sand there; tests of other ground leave it as it was.
func TestTestsTeachTheChance(t *testing.T) {
	base := evidence.Bore{Layers: []evidence.Layer{{TopM: 0, BaseM: 40, Class: soil.Sand, Grade: soil.Fine}}}
	var classes strata.Column
	copy(classes[:], logOf(&base).Cells)
	d := drillerOf(t, "auger")
	chance := func(k *hydraulics.Conductivities) float64 {
		g := newGrader([]evidence.Near{{Bore: &base}}, k).ground(classes)
		r := d.in(g).at(5, 5.5)
		return r.chance()
	}
	before := chance(nil)
	for class, better := range map[soil.Class]bool{soil.Sand: true, soil.Gravel: false} {
		k := soil.ConductivityOf(class, soil.Fine, false).MetresPerDay()
		tested := hydraulics.Tested{
			T:    hydraulics.Estimate{Value: 5 * k * 3, Decades: 0.2},
			Open: []hydraulics.Interval{{Material: hydraulics.Material{Class: class, Grade: soil.Fine}, ThickM: 3}},
		}
		learnt, err := hydraulics.Learn([]hydraulics.Tested{tested, tested, tested})
		if err != nil {
			t.Fatal(err)
		}
		if after := chance(learnt); (after > before) != better || !better && after != before {
			t.Errorf("tests of %s: the chance went from %.3f to %.3f", class, before, after)
		}
	}
}

// What a snapshot keeps of a tested bore says what the record says.
func TestSnapshotKeepsTests(t *testing.T) {
	record := geo.Bore{
		ID: "b", Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: 0.1, Lat: 0.2}}),
		Layers: []geo.Layer{{TopM: 0, BaseM: 4, Class: soil.Clay}, {TopM: 4, BaseM: 12, Class: soil.Sand, Grade: soil.Medium}},
		Pipes: []geo.Pipe{
			{Kind: geo.Casing, TopM: 0, BaseM: 8, DiameterMM: geo.Some(110.0), Material: "PVC"},
			{Kind: geo.Screen, TopM: 8, BaseM: 11, DiameterMM: geo.Some(110.0), Material: "PVC"},
		},
		Tests: []geo.PumpTest{{
			Kind: geo.ConstantRate, RateLPS: geo.Some(0.3), Hours: geo.Some(6.0), RestM: geo.Some(5.0),
			PumpingM: geo.Some(6.2), Remarks: "after rain",
		}},
	}
	s, err := evidence.Load(t.Context(), held{record})
	if err != nil {
		t.Fatal(err)
	}
	want := hydraulics.Evidence(record, hydraulics.DefaultAssumed())
	got := hydraulics.Evidence(recordOf(s.Bores()[0]), hydraulics.DefaultAssumed())
	if len(want) != 1 || len(got) != 1 || got[0].T != want[0].T || got[0].Open[0] != want[0].Open[0] {
		t.Errorf("%+v, the record says %+v", got, want)
	}
}
