//go:build unix

package store_test

import (
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// stickDir tells a child of the test which folder to read in, stickCase what to expect.
const (
	stickDir  = "STORE_STICK_DIR"
	stickCase = "STORE_STICK_CASE"
)

// nobody is a user without rights; the tests may run as the one whom no mode stops.
const nobody = 65534

// A base where the reader may not write: the folder, the file, or both. A child process
// without special rights reads it, so that file modes hold as they do for people. A
// medium that is read-only as a whole is not mounted here; to the program it differs only
// in the error number of the same refused calls.
func TestReadsWhereNothingCanBeWritten(t *testing.T) {
	for _, c := range []struct {
		name         string
		folder, file os.FileMode
		suffixes     []string // what is copied of a base in use
	}{
		{"settled", 0o555, 0o444, []string{""}},
		{"settled", 0o555, 0o666, []string{""}},
		{"settled", 0o777, 0o444, []string{""}},
		{"in use", 0o555, 0o444, []string{"", "-wal", "-shm"}},
		{"half a copy", 0o555, 0o444, []string{"", "-wal"}},
	} {
		dir := openToAll(t)
		b := filled(t)
		if c.name == "settled" {
			must(t, b.Close())
		}
		for _, suffix := range c.suffixes {
			copyTo(t, b.Path()+suffix, filepath.Join(dir, "ground.gpkg"+suffix), c.file)
		}
		before := beside(t, filepath.Join(dir, "ground.gpkg"))
		must(t, os.Chmod(dir, c.folder))
		readAsNobody(t, dir, c.name)
		must(t, os.Chmod(dir, 0o777))
		same(t, beside(t, filepath.Join(dir, "ground.gpkg")), before)
	}
}

// openToAll makes a folder that every user reaches.
func openToAll(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, path := range []string{filepath.Dir(dir), dir} {
		must(t, os.Chmod(path, 0o777))
	}
	t.Cleanup(func() { _ = os.Chmod(dir, 0o700) }) // so that it can be removed
	return dir
}

func copyTo(t *testing.T, from, to string, mode os.FileMode) {
	t.Helper()
	in, err := os.Open(from)
	must(t, err)
	defer in.Close()
	out, err := os.Create(to)
	must(t, err)
	_, err = io.Copy(out, in)
	must(t, errors.Join(err, out.Close(), os.Chmod(to, mode)))
}

func readAsNobody(t *testing.T, dir, expect string) {
	t.Helper()
	program := filepath.Join(openToAll(t), "reader")
	copyTo(t, os.Args[0], program, 0o755)
	cmd := exec.Command(program, "-test.run=^TestStickChild$")
	cmd.Dir = filepath.Dir(program)
	cmd.Env = append(os.Environ(), stickDir+"="+dir, stickCase+"="+expect, "TMPDIR="+filepath.Dir(program))
	if os.Geteuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%s: %v\n%s", expect, err, out)
	}
}

// TestStickChild is the reader without rights: nothing when run by itself.
func TestStickChild(t *testing.T) {
	dir := os.Getenv(stickDir)
	if dir == "" {
		return // it is a program for TestReadsWhereNothingCanBeWritten to start
	}
	path := filepath.Join(dir, "ground.gpkg")
	_, err := store.Open(path, store.DefaultOptions())
	if !errors.Is(err, store.ErrReadOnly) {
		t.Errorf("opened to write: %v", err)
	}
	wantCode(t, err, geo.Conflict, "store.read-only")
	b, err := store.Open(path, toRead())
	if os.Getenv(stickCase) == "half a copy" {
		wantCode(t, err, geo.Conflict, "store.unsettled")
		return
	}
	must(t, err)
	wantReadable(t, b)
	must(t, b.Backup(context.Background(), filepath.Join(t.TempDir(), "elsewhere.gpkg")))
	if info, err := os.Stat(dir); err == nil && info.Mode().Perm() == 0o555 {
		wantCode(t, b.Backup(context.Background(), filepath.Join(dir, "here.gpkg")), geo.Invalid, "store.no-folder")
	}
	must(t, b.Close())
}
