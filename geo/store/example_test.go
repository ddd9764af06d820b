package store_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// A bore is saved, corrected, and the correction taken back.
func Example() {
	dir, err := os.MkdirTemp("", "store")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	base, err := store.Create(filepath.Join(dir, "ground.gpkg"), store.DefaultOptions())
	if err != nil {
		panic(err)
	}
	defer base.Close()

	ctx := context.Background()
	bore := geo.Bore{ID: geo.NewBoreID(), Code: "B-7", DepthM: geo.Some(14.0)}
	try := func(err error) {
		if err != nil {
			panic(err)
		}
	}
	try(base.SaveBore(ctx, bore, store.Why{Who: "Ama", Reason: "field book, page 3"}))
	bore.DepthM = geo.Some(41.0)
	try(base.SaveBore(ctx, bore, store.Why{Who: "Kofi", Reason: "correction"}))

	entries, err := base.History(ctx, string(bore.ID))
	try(err)
	for _, e := range entries {
		fmt.Println(e.Who, "-", e.Why)
	}
	try(base.Undo(ctx, entries[1].Seq, store.Why{Who: "Ama", Reason: "it was 14"}))
	bore, err = base.Bore(ctx, bore.ID)
	try(err)
	depth, _ := bore.DepthM.Get()
	fmt.Println(bore.Label(), "is", depth, "m deep")
	// Output:
	// Ama - field book, page 3
	// Kofi - correction
	// B-7 is 14 m deep
}
