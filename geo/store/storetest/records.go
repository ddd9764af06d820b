package storetest

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"

	"github.com/paulmach/orb"
)

func recordsComeBack(t *testing.T, s Store) {
	ctx := context.Background()
	rng := rand.New(rand.NewPCG(7, 11))
	bores := []geo.Bore{FullBore(1), BareBore(2)}
	for i := range 60 {
		bores = append(bores, randomBore(rng, 100+i))
	}
	for _, b := range bores {
		must(t, s.SaveBore(ctx, b, ama))
		same(t, get(t, s, b.ID), b)
	}

	v := village(10, "Aflao")
	must(t, s.SaveVillage(ctx, v, ama))
	gotV, err := s.Village(ctx, v.ID)
	must(t, err)
	same(t, gotV, v)

	w, never := waterPoint(20), waterPoint(21)
	never.DryMonths = geo.Some(geo.Months()) // known, and never dry
	for _, w := range []geo.WaterPoint{w, never} {
		must(t, s.SaveWaterPoint(ctx, w, ama))
		got, err := s.WaterPoint(ctx, w.ID)
		must(t, err)
		same(t, got, w)
	}

	area, empty := boundary(30), boundary(31)
	empty.Shape = nil
	want := []geo.Boundary{area, empty}
	slices.SortFunc(want, func(a, b geo.Boundary) int { return strings.Compare(string(a.ID), string(b.ID)) })
	for _, b := range want {
		must(t, s.SaveBoundary(ctx, b, ama))
	}
	var got []geo.Boundary
	must(t, s.Boundaries(ctx, func(b geo.Boundary) error { got = append(got, b); return nil }))
	same(t, got, want)

	r := river(40)
	must(t, s.SaveRiver(ctx, r, ama))
	must(t, s.Rivers(ctx, func(got geo.River) error { same(t, got, r); return nil }))
}

func boresInOrder(t *testing.T, s Store) {
	ctx := context.Background()
	want := map[geo.BoreID]geo.Bore{}
	for i := range 60 { // ids are hashes: saved in no order
		b := FullBore(i)
		if i%3 == 0 {
			b = BareBore(i)
		}
		want[b.ID] = b
		must(t, s.SaveBore(ctx, b, ama))
	}
	got := all(t, s)
	if len(got) != len(want) {
		t.Fatalf("%d bores, want %d", len(got), len(want))
	}
	for i, b := range got {
		if i > 0 && got[i-1].ID >= b.ID {
			t.Fatalf("%s before %s", got[i-1].ID, b.ID)
		}
		same(t, b, want[b.ID])
	}
	ids := []geo.BoreID{got[40].ID, got[3].ID, geo.BoreID(ID(999)), got[17].ID}
	var picked []geo.BoreID
	must(t, s.BoresByID(ctx, ids, func(b geo.Bore) error { same(t, b, want[b.ID]); picked = append(picked, b.ID); return nil }))
	same(t, picked, []geo.BoreID{got[3].ID, got[17].ID, got[40].ID})

	stop := errors.New("enough")
	n := 0
	if err := s.Bores(ctx, func(geo.Bore) error { n++; return stop }); !errors.Is(err, stop) || n != 1 {
		t.Fatalf("a walk that was stopped returned %v after %d bores", err, n)
	}
}

func replacedWhole(t *testing.T, s Store) {
	ctx := context.Background()
	b := FullBore(1)
	must(t, s.SaveBore(ctx, b, ama))
	b.Layers = append(b.Layers[:1:1], geo.Layer{TopM: 0.7, BaseM: 4, Confidence: 1})
	b.Tests[0].Readings = b.Tests[0].Readings[:1]
	b.Position, b.Ground, b.Source.Fields, b.Fills = geo.Opt[coord.Reading]{}, geo.Opt[geo.Elevation]{}, nil, nil
	must(t, s.SaveBore(ctx, b, ama))
	same(t, get(t, s, b.ID), b)
}

func sameWritesNothing(t *testing.T, s Store) {
	ctx := context.Background()
	must(t, s.SaveBore(ctx, FullBore(1), ama))
	before, err := s.Seq(ctx)
	must(t, err)
	must(t, s.SaveBore(ctx, FullBore(1), ama))
	after, err := s.Seq(ctx)
	must(t, err)
	if before != after {
		t.Fatalf("saving the same bore moved the sequence from %d to %d", before, after)
	}
}

func refused(t *testing.T, s Store) {
	ctx := context.Background()
	for name, spoil := range map[string]func(*geo.Bore){
		"an id that is no UUID":    func(b *geo.Bore) { b.ID = "7" },
		"an id in another form":    func(b *geo.Bore) { b.ID = "{" + b.ID + "}" },
		"a depth that is NaN":      func(b *geo.Bore) { b.DepthM = geo.Some(math.NaN()) },
		"a cost that is NaN":       func(b *geo.Bore) { b.Cost = geo.Some(geo.Money{Amount: math.NaN()}) },
		"an infinite sample":       func(b *geo.Bore) { b.Samples[0].Value = geo.Some(math.Inf(1)) },
		"a layer upside down":      func(b *geo.Bore) { b.Layers[0].BaseM = -1 },
		"a pipe of no kind":        func(b *geo.Bore) { b.Pipes[0].Kind = "hose" },
		"a latitude beyond a pole": func(b *geo.Bore) { b.Position = geo.Some(coord.Reading{Pos: coord.LonLat{Lat: 91}}) },
	} {
		b := FullBore(1)
		spoil(&b)
		if err := s.SaveBore(ctx, b, ama); geo.KindOf(err) != geo.Invalid || err == nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	broken := river(40)
	broken.Line = orb.LineString{{0, 0}, {math.NaN(), 1}}
	wantKind(t, s.SaveRiver(ctx, broken, ama), geo.Invalid)
	if seq, err := s.Seq(ctx); err != nil || seq != 0 {
		t.Fatalf("refused records left %d changes (%v)", seq, err)
	}
}

func notFound(t *testing.T, s Store) {
	ctx := context.Background()
	_, err := s.Bore(ctx, geo.BoreID(ID(1)))
	wantKind(t, err, geo.NotFound)
	wantKind(t, s.Hide(ctx, ID(1), ama), geo.NotFound)
	wantKind(t, s.Restore(ctx, ID(1), ama), geo.NotFound)
	wantKind(t, s.Undo(ctx, 99, ama), geo.NotFound)
	_, err = s.TakeBack(ctx, "none", ama, nil)
	wantKind(t, err, geo.NotFound)
}

func villagesByName(t *testing.T, s Store) {
	ctx := context.Background()
	for i, name := range []string{"São Tomé", "SAO  TOME", "Sao", "Straße"} {
		must(t, s.SaveVillage(ctx, village(i, name), ama))
	}
	for name, want := range map[string]int{"são tomé": 2, " Sao Tome ": 2, "sao": 1, "STRASSE": 1, "Tome": 0} {
		got, err := s.VillagesNamed(ctx, name)
		must(t, err)
		if len(got) != want {
			t.Errorf("%q: %d villages, want %d", name, len(got), want)
		}
	}
}

// Every code of the trade's lists must be one that the store knows.
func everyCode(t *testing.T, s Store) {
	ctx := context.Background()
	b := FullBore(1)
	b.Layers = nil
	top := 0.0
	for _, class := range append(knownClasses(), soil.Unknown) {
		for _, grade := range []soil.Grade{soil.GradeUnknown, soil.Fine, soil.Medium, soil.Coarse} {
			b.Layers = append(b.Layers, geo.Layer{TopM: top, BaseM: top + 1, Class: class, Grade: grade, Confidence: 1})
			top++
		}
	}
	b.Pipes, b.Fills, b.Tests = nil, nil, nil
	for _, kind := range []geo.PipeKind{geo.Casing, geo.Screen, geo.Plug} {
		b.Pipes = append(b.Pipes, geo.Pipe{Kind: kind, BaseM: 1})
	}
	for _, kind := range []geo.FillKind{geo.Pack, geo.ClaySeal, geo.Grout, geo.Backfill} {
		b.Fills = append(b.Fills, geo.Fill{Kind: kind, BaseM: 1})
	}
	for _, kind := range []geo.TestKind{geo.ConstantRate, geo.StepTest, geo.Recovery, geo.BailerTest} {
		b.Tests = append(b.Tests, geo.PumpTest{Kind: kind})
	}
	for _, outcome := range geo.Outcomes() {
		b.Outcome = outcome
		must(t, s.SaveBore(ctx, b, ama))
		same(t, get(t, s, b.ID), b)
	}
	for i, kind := range []geo.PointKind{geo.PointUnknown, geo.TubeWell, geo.DugWell, geo.Spring, geo.OpenWater, geo.PipedPoint} {
		w := waterPoint(i)
		w.Kind = kind
		must(t, s.SaveWaterPoint(ctx, w, ama))
		got, err := s.WaterPoint(ctx, w.ID)
		must(t, err)
		same(t, got, w)
	}
}

func knownClasses() []soil.Class {
	known := soil.Known()
	return known[:]
}

// siting is a visit with something of everything.
func siting(i int) geo.Siting {
	return geo.Siting{
		ID: geo.SitingID(ID(i)), Place: "Upper ford", Position: placed(0.1, 0.2), On: geo.Some(geo.Date{Year: 2021, Month: 3, Day: 9}),
		Access: "on foot", Consent: geo.Yes, ConsentBy: "headman", FloodM: geo.Some(0.4), Services: geo.No, ServicesBy: "district",
		Ordnance: geo.Cleared, OrdnanceBy: "authority, 17/2021", Remarks: "shade",
		Near: []geo.Nearby{
			{Kind: geo.NearDugWell, DistanceM: geo.Some(40.0), BearingDeg: geo.Some(90.0), DepthM: geo.Some(8.5), DryMonths: geo.Some(geo.Months(time.March)), SaidBy: "owner", PointID: geo.WaterPointID(ID(i + 1))},
			{Kind: geo.NearLatrine, DistanceM: geo.Some(12.0), Words: "in use"},
			{Kind: geo.NearDugWell, DryMonths: geo.Some(geo.MonthSet(0))},
		},
		Source: geo.Provenance{By: "crew 2"},
	}
}

// sitings come back as they were with their wells, are changed, told, hidden and restored.
func sitings(t *testing.T, s Store) {
	ctx := context.Background()
	v := siting(80)
	well := waterPoint(81)
	got, err := s.ReceiveSiting(ctx, v, []geo.WaterPoint{well}, as("visit", 0), ama)
	must(t, err)
	back, err := s.Siting(ctx, v.ID)
	must(t, err)
	same(t, back, v)
	if point, err := s.WaterPoint(ctx, well.ID); err != nil || point.ID != well.ID {
		t.Errorf("the dug well: %+v, %v", point, err)
	}
	v.Near, v.Consent = v.Near[:1], geo.No
	_, err = s.ReceiveSiting(ctx, v, nil, as("corrected", got.Seq), ama)
	must(t, err)
	broken := well
	broken.Position.Pos.Lat = 95
	late := v
	late.Remarks = "later"
	if _, err := s.ReceiveSiting(ctx, late, []geo.WaterPoint{broken}, as("with a broken well", lastSeq(t, s, string(v.ID))), ama); err == nil {
		t.Error("a well off the globe went through")
	}
	back, err = s.Siting(ctx, v.ID)
	must(t, err)
	same(t, back, v) // all or none
	must(t, s.Undo(ctx, lastSeq(t, s, string(v.ID)), ama))
	back, err = s.Siting(ctx, v.ID)
	must(t, err)
	same(t, back, siting(80))
	must(t, s.Hide(ctx, string(v.ID), ama)) // and its well in the same change
	_, err = s.Siting(ctx, v.ID)
	wantKind(t, err, geo.NotFound)
	_, err = s.WaterPoint(ctx, well.ID)
	wantKind(t, err, geo.NotFound)
	must(t, s.Restore(ctx, string(v.ID), ama))
	_, err = s.WaterPoint(ctx, well.ID)
	must(t, err)
	must(t, s.Hide(ctx, string(well.ID), ama)) // by itself: it does not come back with the visit
	must(t, s.Hide(ctx, string(v.ID), ama))
	must(t, s.Restore(ctx, string(v.ID), ama))
	_, err = s.WaterPoint(ctx, well.ID)
	wantKind(t, err, geo.NotFound)
	n := 0
	must(t, s.Sitings(ctx, func(geo.Siting) error { n++; return nil }))
	if n != 1 {
		t.Errorf("%d visits", n)
	}
	v.Near[0].Kind = "volcano"
	_, err = s.ReceiveSiting(ctx, v, nil, as("volcano", 0), ama)
	wantKind(t, err, geo.Invalid)
}
