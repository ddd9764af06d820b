// Package storetest is the conformance suite of a knowledge base: what every store of
// ground records must do, whatever it is made of.
//
// [Suite] promises: what is saved is read back to the last bit; readers see records in
// the order of their ids; every change has a history and can be undone; deleting hides;
// an import applies whole, adds nothing twice, spares what people corrected, and can be
// taken back.
package storetest

import (
	"context"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// Store is what the suite asks of a knowledge base; each method promises what that of
// [store.Base] does.
type Store interface {
	Bores(ctx context.Context, fn func(geo.Bore) error) error
	BoresByID(ctx context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error
	Bore(ctx context.Context, id geo.BoreID) (geo.Bore, error)
	SaveBore(ctx context.Context, b geo.Bore, why store.Why) error
	Villages(ctx context.Context, fn func(geo.Village) error) error
	Village(ctx context.Context, id geo.VillageID) (geo.Village, error)
	VillagesNamed(ctx context.Context, name string) ([]geo.Village, error)
	SaveVillage(ctx context.Context, v geo.Village, why store.Why) error
	WaterPoints(ctx context.Context, fn func(geo.WaterPoint) error) error
	WaterPoint(ctx context.Context, id geo.WaterPointID) (geo.WaterPoint, error)
	SaveWaterPoint(ctx context.Context, w geo.WaterPoint, why store.Why) error
	Boundaries(ctx context.Context, fn func(geo.Boundary) error) error
	SaveBoundary(ctx context.Context, b geo.Boundary, why store.Why) error
	Rivers(ctx context.Context, fn func(geo.River) error) error
	SaveRiver(ctx context.Context, r geo.River, why store.Why) error

	Seq(ctx context.Context) (int64, error)
	ChangedSince(ctx context.Context, seq int64) (store.Changed, error)
	History(ctx context.Context, id string) ([]store.Entry, error)
	Told(ctx context.Context, id string) ([]store.Telling, error)
	ReceiveBore(ctx context.Context, b geo.Bore, sent store.Sent, why store.Why) (store.Received, error)
	Sitings(ctx context.Context, fn func(geo.Siting) error) error
	Siting(ctx context.Context, id geo.SitingID) (geo.Siting, error)
	ReceiveSiting(ctx context.Context, v geo.Siting, points []geo.WaterPoint, sent store.Sent, why store.Why) (store.Received, error)
	Undo(ctx context.Context, seq int64, why store.Why) error
	Hide(ctx context.Context, id string, why store.Why) error
	Restore(ctx context.Context, id string, why store.Why) error
	Hidden(ctx context.Context) ([]store.HiddenRecord, error)
	Counts(ctx context.Context) (store.Counts, error)

	Apply(ctx context.Context, d *store.Draft, why store.Why, how store.How) (store.Applied, error)
	Compare(ctx context.Context, d *store.Draft, how store.How) (store.Applied, error)
	TakeBack(ctx context.Context, batch string, why store.Why, progress func(done, total int)) (store.TakenBack, error)
	Batches(ctx context.Context) ([]store.Batch, error)
	Issues(ctx context.Context, batch string, fn func(geo.Issue) error) error
}

// Suite runs every check, each on an empty store of its own.
func Suite(t *testing.T, open func(testing.TB) Store) {
	for _, c := range []struct {
		name  string
		check func(*testing.T, Store)
	}{
		{"records come back as they were", recordsComeBack},
		{"every code is kept", everyCode},
		{"bores come in the order of their ids", boresInOrder},
		{"a record is replaced whole", replacedWhole},
		{"what is the same writes nothing", sameWritesNothing},
		{"what cannot be kept is refused", refused},
		{"what is not there is not found", notFound},
		{"villages are found by name", villagesByName},
		{"every change has a history", history},
		{"a history is told in words", told},
		{"what is sent twice is written once", received},
		{"a siting visit is kept with its wells", sitings},
		{"undo gives the former value", undo},
		{"undo refuses what was changed since", undoOvertaken},
		{"deleting hides and restoring brings back", hideAndRestore},
		{"a snapshot learns what changed", changedSince},
		{"an import joins parts to their bores", importJoins},
		{"the same file twice adds nothing", importTwice},
		{"an updated file changes what differs", importUpdate},
		{"an import spares what people corrected", importSpares},
		{"an import is taken back whole", takeBack},
		{"taking back leaves what was changed since", takeBackConflict},
		{"issues stay with their import", issuesStay},
		{"a cancelled import leaves nothing", importCancelled},
	} {
		t.Run(c.name, func(t *testing.T) { c.check(t, open(t)) })
	}
}

var ama = store.Why{Who: "Ama", Reason: "field book"}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func wantKind(t *testing.T, err error, kind geo.Kind) {
	t.Helper()
	if err == nil || geo.KindOf(err) != kind {
		t.Fatalf("error %v, want kind %v", err, kind)
	}
}

func get(t *testing.T, s Store, id geo.BoreID) geo.Bore {
	t.Helper()
	b, err := s.Bore(context.Background(), id)
	must(t, err)
	return b
}

func all(t *testing.T, s Store) []geo.Bore {
	t.Helper()
	var out []geo.Bore
	must(t, s.Bores(context.Background(), func(b geo.Bore) error { out = append(out, b); return nil }))
	return out
}
