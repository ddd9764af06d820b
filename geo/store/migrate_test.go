package store

import (
	"context"
	"database/sql"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/geo"
)

// A base of an earlier program is brought up to date with its rows and their history.
func TestOpenBringsAnEarlierBaseUpToDate(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	db, err := sql.Open("sqlite", dsn(path, "_pragma=journal_mode(WAL)"))
	if err != nil {
		t.Fatal(err)
	}
	up, err := provider(db)
	if err == nil {
		_, err = up.UpTo(ctx, 7)
	}
	if err != nil {
		t.Fatal(err)
	}
	const id = "0b0b0b0b-0000-4000-8000-000000000001"
	for _, statement := range []string{
		"INSERT INTO bore (fid, id) VALUES (1, '" + id + "')",
		"INSERT INTO layer (bore_fid, top_m, base_m, words) VALUES (1, 0, 2, 'red clay')",
		"UPDATE layer SET words = 'stiff red clay'",
	} {
		if _, err := db.ExecContext(ctx, statement); err != nil {
			t.Fatal(err)
		}
		time.Sleep(5 * time.Millisecond) // what is done from outside in one millisecond is undone as one
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	base, err := Open(path, DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer base.Close()
	bore, err := base.Bore(ctx, id)
	if err != nil || bore.Layers[0].Words != "stiff red clay" || bore.Layers[0].Colour != "" {
		t.Fatalf("%+v, %v", bore, err)
	}
	bore.Layers[0].Colour, bore.Outcome = "red", geo.Failed
	why := Why{Who: "Ama"}
	if err := base.SaveBore(ctx, bore, why); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"stiff red clay", "red clay"} { // undone by the new triggers, then from what the old ones kept
		past, err := base.History(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		for i := len(past) - 1; i >= 0; i-- {
			if !past[i].Undone {
				err = base.Undo(ctx, past[i].Seq, why)
				break
			}
		}
		if err != nil {
			t.Fatal(err)
		}
		if bore, err = base.Bore(ctx, id); err != nil || bore.Layers[0].Words != want || bore.Layers[0].Colour != "" {
			t.Fatalf("after undoing: %+v, %v; want %q", bore.Layers, err, want)
		}
	}
}
