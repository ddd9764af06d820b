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

// RestoreBackup puts a backup in the place of a knowledge base that no program has open
// and returns the path where the present file was kept, empty when there was none. It
// replaces no file that was kept before. The backup is read through first;
// [geo.Conflict] when the base is in use or the backup's latest changes stand in a file
// beside it.
func RestoreBackup(ctx context.Context, backup, path string, now time.Time) (aside string, err error) {
	const op = "store.RestoreBackup"
	if _, err := identify(backup); err != nil {
		return "", err
	}
	if hasLog(backup) {
		return "", unsettled(op, backup, nil)
	}
	part := path + ".part"
	defer func() { err = errors.Join(err, removed(part)) }()
	if err := copyFile(backup, part); err != nil {
		return "", fail(op, err)
	}
	// The copy is read through, not the backup: that may lie where nothing can be written.
	if err := (candidate{part, backup, frozenPragmas}).verify(ctx); err != nil {
		return "", fail(op, err)
	}
	if _, err := os.Stat(path); err == nil {
		if aside, err = setAside(ctx, path, now); err != nil {
			return "", fail(op, err)
		}
	}
	if err := place(part, path); err != nil {
		if aside != "" {
			err = errors.Join(err, move(aside, path))
		}
		return "", fail(op, err)
	}
	return aside, nil
}

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

// mostAside is how many files are kept aside of one second.
const mostAside = 100

// asideName is the i-th name for the file kept aside at some moment.
func asideName(path string, now time.Time, i int) string {
	ext := filepath.Ext(path)
	again := ""
	if i > 0 {
		again = fmt.Sprintf("-%d", i+1)
	}
	return path[:len(path)-len(ext)] + "-before-" + now.UTC().Format("20060102T150405") + again + ext
}

// setAside moves a base that nobody has open to a name that nothing has.
func setAside(ctx context.Context, path string, now time.Time) (aside string, err error) {
	if err := release(ctx, path); err != nil {
		return "", err
	}
	for i := range mostAside {
		aside = asideName(path, now, i)
		err = reserve(aside)
		if err == nil {
			return aside, move(path, aside)
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", err
		}
	}
	return "", geo.Fail(geo.Conflict, "store.RestoreBackup", geo.Say("store.exists", geo.With("path", geo.Text(aside))), err)
}

// reserve takes a name that nothing has, neither a base nor the log of one.
func reserve(path string) error {
	for _, suffix := range logSuffixes {
		if _, err := os.Lstat(path + suffix); err == nil {
			return fs.ErrExist
		}
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

// logSuffixes are the ends of the names of what stands beside a base in use.
var logSuffixes = []string{"-wal", "-shm", "-journal"}

// move moves a base with whatever log stands beside it; when that fails, it is where it was.
func move(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return errors.Join(err, removed(to))
	}
	for _, suffix := range logSuffixes {
		if err := os.Rename(from+suffix, to+suffix); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return errors.Join(err, os.Rename(to, from))
		}
	}
	return nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()                                                       //nolint:errcheck // only read from
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o644) // as SQLite makes files
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}
