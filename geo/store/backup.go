package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"waterstrike/geo"
)

// Backup writes a copy of the base, of one moment, to a new file, reads it through and
// only then gives it its name. [geo.Conflict] when the file exists.
func (b *Base) Backup(ctx context.Context, path string) error {
	const op = "store.Backup"
	if _, err := os.Stat(path); err == nil {
		return geo.Fail(geo.Conflict, op, geo.Say("store.exists", geo.With("path", geo.Text(path))), fs.ErrExist)
	}
	part := path + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return geo.Fail(geo.Internal, op, geo.Message{}, err)
	}
	// Not a reader: VACUUM INTO is a write to a connection that only may query.
	db, err := sql.Open("sqlite", dsn(b.path, lookPragmas))
	if err != nil {
		return fail(op, err)
	}
	defer db.Close() //nolint:errcheck // only read from
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return errors.Join(fail(op, err), removed(part))
	}
	if err := verify(ctx, part); err != nil {
		return errors.Join(fail(op, err), removed(part))
	}
	return fail(op, place(part, path))
}

// RestoreBackup puts a backup in the place of a knowledge base that no program has open
// and returns the path where the present file was kept, empty when there was none. The
// backup is read through first; [geo.Conflict] when the base is in use.
func RestoreBackup(ctx context.Context, backup, path string, now time.Time) (aside string, err error) {
	const op = "store.RestoreBackup"
	if err := look(backup); err != nil {
		return "", fail(op, err)
	}
	// The copy is read through, not the backup: that may lie where nothing can be written.
	part := path + ".part"
	if err := errors.Join(copyFile(backup, part), verify(ctx, part)); err != nil {
		return "", errors.Join(fail(op, err), removed(part))
	}
	if _, err := os.Stat(path); err == nil {
		if err := release(ctx, path); err != nil {
			return "", errors.Join(err, removed(part))
		}
		aside = fmt.Sprintf("%s-before-%s%s", path[:len(path)-len(filepath.Ext(path))], now.UTC().Format("20060102T150405"), filepath.Ext(path))
		if err := setAside(path, aside); err != nil {
			return "", errors.Join(fail(op, err), removed(part))
		}
	}
	return aside, fail(op, place(part, path))
}

// verify reads a base through: that it is one, that its pages are sound, and that every
// part has its record.
func verify(ctx context.Context, path string) error {
	if err := look(path); err != nil {
		return err
	}
	db, err := sql.Open("sqlite", dsn(path, lookPragmas))
	if err != nil {
		return err
	}
	defer db.Close() //nolint:errcheck // only read from
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil {
		return err
	}
	var orphans int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM pragma_foreign_key_check").Scan(&orphans); err != nil {
		return err
	}
	if verdict != "ok" || orphans > 0 {
		return geo.Fail(geo.Invalid, "store.verify", geo.Say("store.damaged", geo.With("path", geo.Text(path))),
			fmt.Errorf("integrity_check: %s; %d rows without their record", verdict, orphans))
	}
	return nil
}

// Check reads the whole base through; [geo.Invalid] when it is damaged.
func (b *Base) Check(ctx context.Context) error { return fail("store.Check", verify(ctx, b.path)) }

// release makes one file of a base that nobody has open: leaving the write-ahead mode
// needs the file for itself. A file too damaged for that is moved as it is.
func release(ctx context.Context, path string) error {
	db, err := sql.Open("sqlite", dsn(path, "mode=rw&_pragma=busy_timeout(1000)"))
	if err != nil {
		return err
	}
	defer db.Close() //nolint:errcheck // its work is done
	var mode string
	err = db.QueryRowContext(ctx, "PRAGMA journal_mode=DELETE").Scan(&mode)
	if busy(err) || (err == nil && mode == "wal") {
		return geo.Fail(geo.Conflict, "store.RestoreBackup", geo.Say("store.in-use", geo.With("path", geo.Text(path))), err)
	}
	return nil
}

// setAside moves a base with whatever log stands beside it.
func setAside(path, aside string) error {
	for _, suffix := range []string{"", "-wal", "-shm"} {
		if err := os.Rename(path+suffix, aside+suffix); err != nil && (suffix == "" || !errors.Is(err, fs.ErrNotExist)) {
			return err
		}
	}
	return nil
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

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() //nolint:errcheck // only read from
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o640)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

func removed(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
