package storetest

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/soil"
	"waterstrike/geo/store"
)

func sortIDs(ids []geo.BoreID) { slices.Sort(ids) }

// fileBores is what a file of n bores gives, without the layers: those stand in another.
func fileBores(n int) []geo.Bore {
	out := make([]geo.Bore, n)
	for i := range out {
		out[i] = FullBore(i)
		out[i].Layers = nil
	}
	return out
}

func key(b geo.Bore) string { return b.Code }

// draft reads bores and two layers each, the layers first and in no order.
func draft(t *testing.T, bores []geo.Bore) *store.Draft {
	t.Helper()
	d, err := store.NewDraft(context.Background(), filepath.Join(t.TempDir(), "draft.db"))
	must(t, err)
	t.Cleanup(func() { must(t, d.Close()) })
	for i := range bores {
		b := bores[len(bores)-1-i]
		for j, class := range []soil.Class{soil.Sand, soil.Clay} {
			d.CountRow("layers.csv")
			must(t, d.AddPart(key(b), "layers.csv", 2*i+j+1, geo.Layer{TopM: float64(1 - j), BaseM: float64(2 - j), Class: class, Confidence: 1}))
		}
	}
	for _, b := range bores {
		d.CountRow("bores.csv")
		must(t, d.AddBore(key(b), b))
	}
	return d
}

func finish(t *testing.T, d *store.Draft) *store.Draft {
	t.Helper()
	must(t, d.Finish())
	return d
}

func apply(t *testing.T, s Store, d *store.Draft) store.Applied {
	t.Helper()
	out, err := s.Apply(context.Background(), d, ama, store.How{})
	must(t, err)
	return out
}

func importJoins(t *testing.T, s Store) {
	ctx := context.Background()
	d := draft(t, fileBores(3))
	must(t, d.AddPart("GW-000", "levels.csv", 1, geo.Level{State: geo.LevelRest, DepthM: geo.Some(4.0)}))
	must(t, d.AddPart("GW-000", "tests.csv", 1, geo.PumpTest{Kind: geo.StepTest, Readings: []geo.TestReading{{Minutes: 5, DepthM: 6}}}))
	must(t, d.AddPart("nobody", "levels.csv", 2, geo.Level{State: geo.LevelRest, DepthM: geo.Some(4.0)}))
	must(t, d.AddBore("GW-001", FullBore(50))) // a key twice
	must(t, d.AddVillage(village(60, "Keta")))
	must(t, d.AddVillage(village(60, "Keta"))) // an id twice
	must(t, d.AddWaterPoint(waterPoint(61)))
	must(t, d.AddBoundary(boundary(62)))
	must(t, d.AddRiver(river(63)))
	wantKind(t, d.AddPart("GW-000", "layers.csv", 9, geo.Layer{TopM: 3, BaseM: 3}), geo.Invalid)
	finish(t, d)

	var codes []string
	must(t, d.Issues(ctx, func(i geo.Issue) error {
		codes = append(codes, fmt.Sprintf("%s %s %d", i.Message.Code, i.File, i.Row))
		return nil
	}))
	same(t, codes, []string{"issue.duplicate-record  0", "issue.duplicate-record bores.csv 51", "issue.unmatched-parent levels.csv 2"})
	sum, err := d.Summary(ctx)
	must(t, err)
	if sum.Records["bore"] != 3 || sum.Parts["layer"] != 6 || sum.Listed != 2 || sum.Refused != 2 || sum.Files[1] != (store.FileRows{Name: "layers.csv", Rows: 6}) {
		t.Errorf("summary %+v", sum)
	}

	var steps []int
	got, err := s.Apply(ctx, d, ama, store.How{Progress: func(done, total int) { steps = append(steps, done, total) }})
	must(t, err)
	if got.Added != 7 || got.Changed+got.Same+len(got.Conflicts) != 0 || got.Batch == "" || len(steps) == 0 || steps[len(steps)-2] != steps[len(steps)-1] {
		t.Errorf("applied %+v, progress %v", got, steps)
	}
	b := get(t, s, geo.BoreID(ID(0)))
	if len(b.Layers) != 2 || b.Layers[0].Class != soil.Clay || len(b.Levels) != 4 || len(b.Tests) != 3 || b.Tests[2].Readings[0].DepthM != 6 {
		t.Errorf("parts did not come together: %+v", b)
	}
	if b.Source.Batch != got.Batch || b.Source.Row != 1 {
		t.Errorf("provenance %+v", b.Source)
	}
}

func importTwice(t *testing.T, s Store) {
	ctx := context.Background()
	apply(t, s, finish(t, draft(t, fileBores(5))))
	before, err := s.Seq(ctx)
	must(t, err)
	moved := fileBores(5)
	for i := range moved { // the same rows in another file, further down
		moved[i].Source.File, moved[i].Source.Row = "again.csv", 100+i
	}
	got := apply(t, s, finish(t, draft(t, moved)))
	same(t, got, store.Applied{Same: 5})
	after, err := s.Seq(ctx)
	must(t, err)
	if before != after {
		t.Fatalf("the second import wrote %d changes", after-before)
	}
}

func importUpdate(t *testing.T, s Store) {
	first := apply(t, s, finish(t, draft(t, fileBores(5))))
	updated := fileBores(6) // one more row
	updated[3].DepthM = geo.Some(21.0)
	got := apply(t, s, finish(t, draft(t, updated)))
	if got.Added != 1 || got.Changed != 1 || got.Same != 4 || len(got.Conflicts) != 0 {
		t.Fatalf("applied %+v", got)
	}
	if b := get(t, s, updated[3].ID); b.DepthM != geo.Some(21.0) || b.Source.Batch != got.Batch {
		t.Errorf("the updated bore: %+v", b)
	}
	if b := get(t, s, updated[2].ID); b.Source.Batch != first.Batch {
		t.Errorf("the bore that stayed: %+v", b.Source)
	}
}

func importSpares(t *testing.T, s Store) {
	ctx := context.Background()
	apply(t, s, finish(t, draft(t, fileBores(4))))
	corrected := get(t, s, geo.BoreID(ID(1)))
	corrected.DepthM = geo.Some(9.0)
	must(t, s.SaveBore(ctx, corrected, ama))
	must(t, s.Hide(ctx, ID(2), ama))

	got := apply(t, s, finish(t, draft(t, fileBores(4))))
	same(t, got, store.Applied{Same: 4})
	same(t, get(t, s, corrected.ID), corrected)

	updated := fileBores(4) // the file now disagrees with the correction and the deletion
	updated[1].DepthM, updated[2].DepthM = geo.Some(30.0), geo.Some(30.0)
	got = apply(t, s, finish(t, draft(t, updated)))
	want := []string{ID(1), ID(2)}
	slices.Sort(want)
	same(t, got, store.Applied{Same: 2, Conflicts: want, Hidden: 1})
	same(t, get(t, s, corrected.ID), corrected)
}

func takeBack(t *testing.T, s Store) {
	ctx := context.Background()
	must(t, s.SaveBore(ctx, FullBore(90), ama))
	first := apply(t, s, finish(t, draft(t, fileBores(4))))
	before := all(t, s)
	updated := fileBores(6)
	updated[0].DepthM = geo.Some(30.0)
	second := apply(t, s, finish(t, draft(t, updated)))

	var steps []int
	got, err := s.TakeBack(ctx, second.Batch, ama, func(done, total int) { steps = append(steps, done, total) })
	must(t, err)
	same(t, steps, []int{3, 3})
	same(t, got, store.TakenBack{Hidden: 2, Restored: 1})
	same(t, all(t, s), before)
	_, err = s.TakeBack(ctx, second.Batch, ama, nil)
	wantKind(t, err, geo.Conflict)

	again := apply(t, s, finish(t, draft(t, updated))) // what was taken back can be brought in anew
	if again.Added != 2 || again.Changed != 1 || again.Same != 3 {
		t.Fatalf("applied again %+v", again)
	}
	for _, batch := range []string{again.Batch, first.Batch} {
		_, err := s.TakeBack(ctx, batch, ama, nil)
		must(t, err)
	}
	same(t, all(t, s), []geo.Bore{FullBore(90)})
	batches, err := s.Batches(ctx)
	must(t, err)
	if len(batches) != 3 || !batches[0].TakenBack || batches[0].ID != again.Batch || batches[0].Who != "Ama" || batches[0].Files[0] != "bores.csv" {
		t.Errorf("batches %+v", batches)
	}
	if back := batches[0]; back.BackBy != "Ama" || back.BackAt.Before(back.At) {
		t.Errorf("taken back by %q at %v, taken in at %v", back.BackBy, back.BackAt, back.At)
	}
}

func takeBackConflict(t *testing.T, s Store) {
	ctx := context.Background()
	batch := apply(t, s, finish(t, draft(t, fileBores(3)))).Batch
	kept := get(t, s, geo.BoreID(ID(1)))
	kept.Remarks = "measured again"
	must(t, s.SaveBore(ctx, kept, ama))
	got, err := s.TakeBack(ctx, batch, ama, nil)
	must(t, err)
	same(t, got, store.TakenBack{Hidden: 2, Conflicts: []string{ID(1)}})
	same(t, all(t, s), []geo.Bore{kept})
}

func issuesStay(t *testing.T, s Store) {
	ctx := context.Background()
	d := draft(t, fileBores(1))
	want := geo.Issue{
		Severity: geo.Doubt, File: "bores.csv", Row: 1, Column: "depth", Read: "17,25", Record: ID(0),
		Message: geo.Say("issue.anything", geo.With("depth", geo.Metres(17.25)), geo.With("range", geo.MetresRange{Lo: 1, Hi: 2}),
			geo.With("on", geo.Date{Year: 2011, Month: 3}), geo.With("class", geo.Ref("class.sand")), geo.With("n", geo.Count(3)), geo.With("chances", geo.ChanceRange{Lo: 0.1, Hi: 0.9}),
			geo.With("month", geo.Month(4)), geo.With("far", geo.DistanceM(1200)), geo.With("name", geo.Text("Ñ"))),
	}
	must(t, d.AddIssue(want))
	out := apply(t, s, finish(t, d))
	n := 0
	must(t, s.Issues(ctx, out.Batch, func(got geo.Issue) error {
		n++
		same(t, got, want)
		for i, a := range got.Message.Args {
			if fmt.Sprintf("%T", a.Value) != fmt.Sprintf("%T", want.Message.Args[i].Value) {
				t.Errorf("argument %s came back as %T", a.Name, a.Value)
			}
		}
		return nil
	}))
	if n != 1 {
		t.Fatalf("%d issues, want 1", n)
	}
}

func importCancelled(t *testing.T, s Store) {
	ctx, cancel := context.WithCancel(context.Background())
	d, err := store.NewDraft(ctx, filepath.Join(t.TempDir(), "draft.db"))
	must(t, err)
	defer d.Close()
	for i := range 700 { // more than are compared at a time
		must(t, d.AddBore("", BareBore(i)))
	}
	finish(t, d)
	_, err = s.Apply(ctx, d, ama, store.How{Progress: func(int, int) { cancel() }})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("a cancelled import returned %v", err)
	}
	if got := all(t, s); len(got) != 0 {
		t.Fatalf("a cancelled import left %d bores", len(got))
	}
	if got := apply(t, s, d); got.Added != 700 {
		t.Fatalf("applied after that: %+v", got)
	}
}
