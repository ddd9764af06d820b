package store

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"waterstrike/geo"
)

// Options are the choices of an open knowledge base.
type Options struct {
	Now       func() time.Time // the clock that dates changes
	IdleAfter time.Duration    // with nothing written for so long, the file alone holds everything
	ReadOnly  bool             // only read, also where nothing can be written: on a stick, in somebody's folder
}

// DefaultOptions returns the usual choices.
func DefaultOptions() Options {
	return Options{Now: time.Now, IdleAfter: 2 * time.Second}
}

// Base is an open knowledge base: one writer and a pool of readers on one file.
type Base struct {
	file    candidate
	options Options
	writer  *sql.DB // nil when it is only read
	readers *sql.DB
	idle    *idle
}

// The pragmas of every connection. busy_timeout comes first, so that the others wait for
// a file that is in use.
const (
	writerPragmas = "_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)" +
		"&_pragma=synchronous(FULL)&_pragma=cache_size(-131072)&_pragma=temp_store(MEMORY)&_txlock=immediate"
	readerPragmas = "_pragma=busy_timeout(5000)&_pragma=query_only(1)&_pragma=cache_size(-32768)&_pragma=mmap_size(0)"
	lookPragmas   = "mode=ro&_pragma=busy_timeout(5000)"
	frozenPragmas = lookPragmas + "&immutable=1" // of a file that nobody can be writing to
)

// dsn names a file with the pragmas of a connection.
func dsn(path, pragmas string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	u := url.URL{Scheme: "file", OmitHost: true, Path: filepath.ToSlash(path), RawQuery: pragmas}
	return u.String()
}

// Create makes a new, empty knowledge base; [geo.Conflict] when the file exists.
func Create(path string, options Options) (*Base, error) {
	const op = "store.Create"
	if _, err := os.Stat(path); err == nil {
		return nil, geo.Fail(geo.Conflict, op, geo.Say("store.exists", geo.With("path", geo.Text(path))), fs.ErrExist)
	}
	// Built beside its place and moved there whole: nobody ever meets half a base.
	draft, err := os.MkdirTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return nil, geo.Fail(geo.Invalid, op, geo.Say("store.no-folder", geo.With("path", geo.Text(filepath.Dir(path)))), err)
	}
	defer os.RemoveAll(draft) //nolint:errcheck // an empty folder at worst
	built := filepath.Join(draft, filepath.Base(path))
	b, err := connect(built, options)
	if err != nil {
		return nil, err
	}
	if err := errors.Join(migrate(context.Background(), b.writer), b.Close()); err != nil {
		return nil, fail(op, err)
	}
	if err := os.Link(built, path); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return nil, geo.Fail(geo.Conflict, op, geo.Say("store.exists", geo.With("path", geo.Text(path))), err)
		}
		if err := os.Rename(built, path); err != nil { // a disk without links
			return nil, geo.Fail(geo.Internal, op, geo.Message{}, err)
		}
	}
	return connect(path, options)
}

// Open opens a knowledge base and brings an older one up to date. [geo.NotFound] when
// there is no such file, [geo.Invalid] when it is not a knowledge base or damaged,
// [geo.Newer] when a newer program wrote it, [geo.Conflict] with [ErrReadOnly] when the
// file or its folder cannot be written. A file that is refused is left as it is.
//
// With [Options.ReadOnly] every file is left as it is, and whatever writes returns
// [geo.Conflict] with [ErrReadOnly]. A file is then refused with [geo.Conflict] when an
// older program wrote it, or when its latest changes stand in a file beside it and
// cannot be read from there.
func Open(path string, options Options) (*Base, error) {
	const op = "store.Open"
	writable, err := identify(path)
	if err != nil {
		return nil, err
	}
	if options.ReadOnly {
		return openToRead(path, writable, options)
	}
	if err := mayCreate(filepath.Dir(path)); err != nil || !writable {
		return nil, readOnly(op, err)
	}
	if _, err := (candidate{path, path, lookPragmas}).look(); err != nil {
		return nil, err
	}
	b, err := connect(path, options)
	if err != nil {
		return nil, err
	}
	if err := migrate(context.Background(), b.writer); err != nil {
		return nil, errors.Join(fail(op, err), b.Close())
	}
	return b, nil
}

// maxReaders is how many may read at once.
func maxReaders() int { return max(4, 2*runtime.NumCPU()) }

func connect(path string, options Options) (*Base, error) {
	writer, err := sql.Open("sqlite", dsn(path, writerPragmas))
	if err != nil {
		return nil, geo.Fail(geo.Internal, "store.Open", geo.Message{}, err)
	}
	writer.SetMaxOpenConns(1)
	readers, err := sql.Open("sqlite", dsn(path, readerPragmas))
	if err != nil {
		return nil, geo.Fail(geo.Internal, "store.Open", geo.Message{}, errors.Join(err, writer.Close()))
	}
	readers.SetMaxOpenConns(maxReaders())
	b := &Base{file: candidate{path, path, lookPragmas}, options: options, writer: writer, readers: readers}
	if err := writer.Ping(); err != nil {
		return nil, fail("store.Open", errors.Join(err, writer.Close(), readers.Close()))
	}
	b.idle = newIdle(path, options.IdleAfter)
	return b, nil
}

// Path is where the file is.
func (b *Base) Path() string { return b.file.path }

// Close ends the work with the file. When no other program has it open, one file then
// holds everything and can be copied.
func (b *Base) Close() error {
	b.idle.stop()
	err := b.readers.Close()
	if b.writer == nil {
		return err
	}
	if wal, statErr := os.Stat(b.file.path + "-wal"); statErr == nil && wal.Size() > 0 {
		err = errors.Join(err, truncate(b.writer))
	}
	return errors.Join(err, b.writer.Close())
}
