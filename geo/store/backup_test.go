package store_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

func TestBackupAndRestore(t *testing.T) {
	ctx := context.Background()
	b := filled(t)
	backup := filepath.Join(t.TempDir(), "monday.gpkg")
	must(t, b.Backup(ctx, backup))
	wantKind(t, b.Backup(ctx, backup), geo.Conflict)

	later := storetest.FullBore(1)
	later.Remarks = "after the backup"
	must(t, b.SaveBore(ctx, later, me))
	_, err := store.RestoreBackup(ctx, backup, b.Path(), fixedClock())
	wantKind(t, err, geo.Conflict) // still open
	same(t, bore(t, b, later.ID), later)

	path := filepath.Join(t.TempDir(), "ground.gpkg")
	must(t, b.Backup(ctx, path)) // a base that nobody has open
	aside, err := store.RestoreBackup(ctx, backup, path, fixedClock())
	must(t, err)
	if filepath.Base(aside) != "ground-before-20240321T083000.gpkg" {
		t.Errorf("kept aside as %s", aside)
	}
	for file, want := range map[string]geo.Bore{path: storetest.FullBore(1), aside: later} {
		got, err := store.Open(file, store.DefaultOptions())
		must(t, err)
		same(t, bore(t, got, later.ID), want)
		must(t, got.Check(ctx))
		must(t, got.Close())
	}
	fresh := filepath.Join(t.TempDir(), "ground.gpkg")
	aside, err = store.RestoreBackup(ctx, backup, fresh, fixedClock())
	must(t, err)
	if aside != "" {
		t.Errorf("nothing was there, yet %s was kept aside", aside)
	}
}

func TestRestoreRefusesDamage(t *testing.T) {
	ctx := context.Background()
	b := filled(t)
	backup := filepath.Join(t.TempDir(), "bad.gpkg")
	must(t, b.Backup(ctx, backup))
	data, err := os.ReadFile(backup)
	must(t, err)
	for i := len(data) / 2; i < len(data)/2+20000; i++ {
		data[i] = 0xA5
	}
	must(t, os.WriteFile(backup, data, 0o600))
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	must(t, b.Backup(ctx, path))
	if _, err := store.RestoreBackup(ctx, backup, path, fixedClock()); err == nil {
		t.Fatal("a damaged backup was put in place")
	}
	kept, err := store.Open(path, store.DefaultOptions())
	must(t, err)
	must(t, kept.Check(ctx))
	must(t, kept.Close())
}

// The reason to restore may be that the present file is broken.
func TestRestoreOverDamage(t *testing.T) {
	ctx := context.Background()
	b := filled(t)
	backup := filepath.Join(t.TempDir(), "good.gpkg")
	must(t, b.Backup(ctx, backup))
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	must(t, os.WriteFile(path, []byte("SQLite format 3\x00 and then nothing"), 0o600))
	aside, err := store.RestoreBackup(ctx, backup, path, fixedClock())
	must(t, err)
	if _, err := os.Stat(aside); err != nil {
		t.Error(err)
	}
	restored, err := store.Open(path, store.DefaultOptions())
	must(t, err)
	must(t, restored.Close())
}
