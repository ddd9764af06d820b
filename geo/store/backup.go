package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/geo"
)

// Backup writes a copy of the base, of one moment, to a new file, reads it through and
// only then gives it its name. [geo.Conflict] when the file exists.
func (b *Base) Backup(ctx context.Context, path string) error {
	const op = "store.Backup"
	if _, err := os.Stat(path); err == nil {
		return geo.Fail(geo.Conflict, op, geo.Say("store.exists", geo.With("path", geo.Text(path))), fs.ErrExist)
	}
	if err := mayCreate(filepath.Dir(path)); err != nil {
		return geo.Fail(geo.Invalid, op, geo.Say("store.no-folder", geo.With("path", geo.Text(filepath.Dir(path)))), err)
	}
	part := path + ".part"
	if err := removed(part); err != nil {
		return geo.Fail(geo.Internal, op, geo.Message{}, err)
	}
	// Not a reader: VACUUM INTO is a write to a connection that only may query.
	db, err := b.file.open()
	if err != nil {
		return fail(op, err)
	}
	defer db.Close() //nolint:errcheck // only read from
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return errors.Join(fail(op, err), removed(part))
	}
	if err := (candidate{part, path, frozenPragmas}).verify(ctx); err != nil {
		return errors.Join(fail(op, err), removed(part))
	}
	return fail(op, place(part, path))
}

// Check reads the whole base through; [geo.Invalid] when it is damaged.
func (b *Base) Check(ctx context.Context) error {
	return fail("store.Check", sound(ctx, b.readers, b.file.name))
}

// place gives a file that is written whole its name, for good.
func place(part, path string) error {
	if err := syncFile(part); err != nil {
		return err
	}
	if err := os.Rename(part, path); err != nil {
		return err
	}
	return syncFile(filepath.Dir(path))
}

func syncFile(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// removed removes a base and whatever stands beside it.
func removed(path string) error {
	for _, suffix := range append([]string{""}, logSuffixes...) {
		if err := os.Remove(path + suffix); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}
