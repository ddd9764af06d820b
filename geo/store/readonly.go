package store

import (
	"database/sql"
	"errors"
	"os"
	"path/filepath"

	"waterstrike/geo"
)

// ErrReadOnly is the cause of every refusal to write where nothing can be written.
var ErrReadOnly = errors.New("the knowledge base can only be read")

func readOnly(op string, cause error) error {
	return geo.Fail(geo.Conflict, op, geo.Say("store.read-only"), errors.Join(ErrReadOnly, cause))
}

// unsettled is the refusal of a file whose latest changes stand in another one.
func unsettled(op, path string, cause error) error {
	return geo.Fail(geo.Conflict, op, geo.Say("store.unsettled", geo.With("path", geo.Text(path))), cause)
}

// hasLog tells whether changes stand beside a base that are not in it yet.
func hasLog(path string) bool {
	for _, suffix := range []string{"-wal", "-journal"} {
		if info, err := os.Stat(path + suffix); err == nil && info.Size() > 0 {
			return true
		}
	}
	return false
}

// mayCreate tells whether a file can be made in a folder.
func mayCreate(folder string) error {
	probe, err := os.CreateTemp(folder, ".probe-*")
	if err != nil {
		return err
	}
	return errors.Join(probe.Close(), os.Remove(probe.Name()))
}

// openToRead opens a base that is left as it is: no migration, no writer.
func openToRead(path string, writable bool, options Options) (*Base, error) {
	const op = "store.Open"
	c, version, err := lookToRead(path, writable)
	if err != nil {
		return nil, err
	}
	known, err := newest()
	if err != nil || version < known {
		return nil, geo.Fail(geo.Conflict, op, geo.Say("store.older", geo.With("path", geo.Text(path))), err)
	}
	readers, err := sql.Open("sqlite", dsn(path, c.pragmas+"&"+readerPragmas))
	if err != nil {
		return nil, fail(op, err)
	}
	readers.SetMaxOpenConns(maxReaders())
	return &Base{file: c, options: options, readers: readers, idle: newIdle(path, 0)}, nil
}

// lookToRead finds how a base can be read that need not be writable.
func lookToRead(path string, writable bool) (c candidate, version int64, err error) {
	c = candidate{path, path, lookPragmas}
	if writable && mayCreate(filepath.Dir(path)) == nil {
		version, err = c.look()
		return c, version, err
	}
	// SQLite makes two files beside a base that it reads, which here it cannot, or which
	// would lock out those who may write. Where none are nobody is writing.
	log := hasLog(path)
	if _, shm := os.Stat(path + "-shm"); log || shm == nil {
		version, err = c.look()
		if err == nil {
			return c, version, nil
		}
		if log && (geo.KindOf(err) == geo.Internal || errors.Is(err, ErrReadOnly)) {
			return c, 0, unsettled("store.Open", path, err)
		}
	}
	if !log {
		c.pragmas = frozenPragmas
		version, err = c.look()
	}
	return c, version, err
}
