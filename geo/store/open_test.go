package store_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

func wantKind(t testing.TB, err error, kind geo.Kind) {
	t.Helper()
	if err == nil || geo.KindOf(err) != kind {
		t.Fatalf("error %v, want kind %v", err, kind)
	}
}

func TestOpenRefusesWhatIsNoBase(t *testing.T) {
	dir := t.TempDir()
	foreign := filepath.Join(dir, "foreign.gpkg") // a GeoPackage of another program
	db := raw(t, foreign)
	_, err := db.Exec("PRAGMA application_id = 0x47504B47; PRAGMA user_version = 10300; CREATE TABLE bore (a)")
	must(t, err)
	must(t, db.Close())
	words := filepath.Join(dir, "words.gpkg")
	must(t, os.WriteFile(words, []byte("depth;water\n12;7\n"), 0o600))
	empty := filepath.Join(dir, "empty.gpkg")
	must(t, os.WriteFile(empty, nil, 0o600))
	newer := newBase(t)
	db = raw(t, newer.Path())
	_, err = db.Exec("INSERT INTO migration (version_id, is_applied) VALUES (999, 1)")
	must(t, err)

	for _, c := range []struct {
		path string
		kind geo.Kind
		code geo.Code
	}{
		{filepath.Join(dir, "none.gpkg"), geo.NotFound, "store.no-file"},
		{foreign, geo.Invalid, "store.not-a-base"},
		{words, geo.Invalid, "store.not-a-base"},
		{empty, geo.Invalid, "store.not-a-base"},
		{newer.Path(), geo.Newer, "store.newer"},
	} {
		before, _ := os.ReadFile(c.path)
		_, err := store.Open(c.path, store.DefaultOptions())
		wantKind(t, err, c.kind)
		if code := err.(*geo.Error).Message.Code; code != c.code {
			t.Errorf("%s: message %s, want %s", c.path, code, c.code)
		}
		after, _ := os.ReadFile(c.path)
		if string(before) != string(after) {
			t.Errorf("%s was changed by refusing it", c.path)
		}
	}
}

func TestCreateLeavesWhatIsThere(t *testing.T) {
	b := filled(t)
	_, err := store.Create(b.Path(), store.DefaultOptions())
	wantKind(t, err, geo.Conflict)
	_, err = store.Create(filepath.Join(t.TempDir(), "no", "folder", "ground.gpkg"), store.DefaultOptions())
	wantKind(t, err, geo.Invalid)
	same(t, bore(t, b, storetest.FullBore(1).ID), storetest.FullBore(1))
}

// A path with signs that mean something in a URL.
func TestAnyPathWillDo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "données 100% #1?.gpkg")
	b, err := store.Create(path, store.DefaultOptions())
	must(t, err)
	must(t, b.SaveBore(context.Background(), storetest.FullBore(1), me))
	must(t, b.Close())
	b, err = store.Open(path, store.DefaultOptions())
	must(t, err)
	same(t, bore(t, b, storetest.FullBore(1).ID), storetest.FullBore(1))
	must(t, b.Close())
	names, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	if len(names) != 1 {
		t.Errorf("beside the base: %v", names)
	}
}

func TestEveryConnectionHasItsPragmas(t *testing.T) {
	for name, want := range map[string]string{
		"journal_mode": "wal", "foreign_keys": "1", "synchronous": "2", // FULL
	} {
		if got := store.WriterPragma(t, newBase(t), name); got != want {
			t.Errorf("%s = %s, want %s", name, got, want)
		}
	}
}

// People copy the one file they see: once idle it holds everything.
func TestIdleFileHoldsEverything(t *testing.T) {
	options := store.DefaultOptions()
	options.IdleAfter = 20 * time.Millisecond
	b, err := store.Create(filepath.Join(t.TempDir(), "ground.gpkg"), options)
	must(t, err)
	defer b.Close()
	must(t, b.SaveBore(context.Background(), storetest.FullBore(1), me))
	wal := func() int64 {
		info, err := os.Stat(b.Path() + "-wal")
		if err != nil {
			return 0
		}
		return info.Size()
	}
	for deadline := time.Now().Add(10 * time.Second); wal() > 0; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatalf("the log still holds %d bytes", wal())
		}
	}
	data, err := os.ReadFile(b.Path())
	must(t, err)
	copied := filepath.Join(t.TempDir(), "stick.gpkg")
	must(t, os.WriteFile(copied, data, 0o600))
	stick, err := store.Open(copied, store.DefaultOptions())
	must(t, err)
	same(t, bore(t, stick, storetest.FullBore(1).ID), storetest.FullBore(1))
	must(t, stick.Close())
}

func TestFolder(t *testing.T) {
	f := store.Folder(filepath.Join(t.TempDir(), "data"))
	must(t, f.Make())
	must(t, f.Make())
	for _, path := range []string{f.Ground(), f.Draft("march"), f.Backup("monday")} {
		must(t, os.WriteFile(path, nil, 0o600))
	}
}

// A draft that a killed import left is of no use; a younger one may be at work.
func TestSweepDrafts(t *testing.T) {
	f := store.Folder(filepath.Join(t.TempDir(), "data"))
	must(t, f.SweepDrafts(fixedClock())) // no folder yet
	must(t, f.Make())
	left := filepath.Join(filepath.Dir(f.Draft("x")), "notes.txt")
	for path, age := range map[string]time.Duration{
		f.Draft("killed"): 25 * time.Hour, f.Draft("at-work"): 23 * time.Hour, left: 240 * time.Hour,
	} {
		must(t, os.WriteFile(path, nil, 0o600))
		must(t, os.Chtimes(path, time.Time{}, fixedClock().Add(-age)))
	}
	must(t, f.SweepDrafts(fixedClock()))
	for path, want := range map[string]bool{f.Draft("killed"): false, f.Draft("at-work"): true, left: true} {
		if _, err := os.Stat(path); (err == nil) != want {
			t.Errorf("%s: there %v, want %v", filepath.Base(path), err == nil, want)
		}
	}
}
