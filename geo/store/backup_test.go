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

// beside lists what stands in the folder of a file.
func beside(t testing.TB, path string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// Restoring again and again, within one second too, replaces no file kept aside.
func TestRestoreReplacesNoFileKeptAside(t *testing.T) {
	ctx := context.Background()
	b := filled(t)
	backup := filepath.Join(t.TempDir(), "monday.gpkg")
	must(t, b.Backup(ctx, backup))
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	for i, want := range []string{"", "ground-before-20240321T083000.gpkg", "ground-before-20240321T083000-2.gpkg", "ground-before-20240321T083000-3.gpkg"} {
		aside, err := store.RestoreBackup(ctx, backup, path, fixedClock())
		must(t, err)
		if aside != "" && filepath.Base(aside) != want || aside == "" && want != "" {
			t.Fatalf("kept aside as %q, want %q", aside, want)
		}
		base, err := store.Open(path, store.DefaultOptions())
		must(t, err)
		must(t, base.SaveBore(ctx, storetest.FullBore(100+i), me)) // so that each kept file differs
		must(t, base.Close())
		if aside == "" {
			continue
		}
		kept, err := store.Open(aside, store.DefaultOptions())
		must(t, err)
		bore(t, kept, storetest.FullBore(100+i-1).ID)
		must(t, kept.Close())
	}
	same(t, beside(t, path), []string{
		"ground-before-20240321T083000-2.gpkg", "ground-before-20240321T083000-3.gpkg",
		"ground-before-20240321T083000.gpkg", "ground.gpkg",
	})
}

func TestRestoreGivesUpRatherThanReplace(t *testing.T) {
	ctx := context.Background()
	b := filled(t)
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	must(t, b.Backup(ctx, path))
	backup := filepath.Join(t.TempDir(), "monday.gpkg")
	must(t, b.Backup(ctx, backup))
	for i := range store.MostAside {
		must(t, os.WriteFile(store.AsideName(path, fixedClock(), i), []byte("kept"), 0o600))
	}
	before := beside(t, path)
	_, err := store.RestoreBackup(ctx, backup, path, fixedClock())
	wantKind(t, err, geo.Conflict)
	same(t, beside(t, path), before)
	data, err := os.ReadFile(store.AsideName(path, fixedClock(), 0))
	must(t, err)
	if string(data) != "kept" {
		t.Error("a file kept aside was replaced")
	}
}

// A copy of a base in use is in the write-ahead mode: reading one leaves files beside it.
func TestRestoreLeavesNothingBehind(t *testing.T) {
	ctx := context.Background()
	copied := filepath.Join(t.TempDir(), "copied.gpkg")
	b := filled(t)
	must(t, b.Close())
	data, err := os.ReadFile(b.Path())
	must(t, err)
	must(t, os.WriteFile(copied, data, 0o600))
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	_, err = store.RestoreBackup(ctx, copied, path, fixedClock())
	must(t, err)
	same(t, beside(t, path), []string{"ground.gpkg"})
	same(t, beside(t, copied), []string{"copied.gpkg"})

	created, err := os.Stat(b.Path())
	must(t, err)
	restored, err := os.Stat(path)
	must(t, err)
	if restored.Mode() != created.Mode() {
		t.Errorf("the restored base has mode %v, a created one %v", restored.Mode(), created.Mode())
	}

	for i := len(data) / 2; i < len(data)/2+20000; i++ {
		data[i] = 0xA5
	}
	must(t, os.WriteFile(copied, data, 0o600))
	_, err = store.RestoreBackup(ctx, copied, path, fixedClock())
	wantKind(t, err, geo.Invalid)
	same(t, beside(t, path), []string{"ground.gpkg"})
	same(t, beside(t, copied), []string{"copied.gpkg"})

	must(t, os.WriteFile(copied+"-wal", []byte("the latest changes"), 0o600)) // and a copy of half a base
	_, err = store.RestoreBackup(ctx, copied, path, fixedClock())
	wantKind(t, err, geo.Conflict)
	same(t, beside(t, path), []string{"ground.gpkg"})
}
