package store

import (
	"database/sql"
	"sync"
	"time"
)

// idle empties the write-ahead log once nothing was written for a while: people copy the
// one file they see.
type idle struct {
	path  string
	after time.Duration
	mu    sync.Mutex
	timer *time.Timer
	ended bool
}

func newIdle(path string, after time.Duration) *idle {
	return &idle{path: path, after: after}
}

// wrote starts the wait anew.
func (i *idle) wrote() {
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.timer != nil {
		i.timer.Stop()
	}
	if !i.ended && i.after > 0 {
		i.timer = time.AfterFunc(i.after, i.rest)
	}
}

// rest empties the log on a connection of its own that does not make others wait; a busy
// file is tried again later.
func (i *idle) rest() {
	i.mu.Lock()
	defer i.mu.Unlock()
	if i.ended {
		return
	}
	db, err := sql.Open("sqlite", dsn(i.path, "mode=rw&_pragma=busy_timeout(50)"))
	if err != nil {
		return
	}
	defer db.Close() //nolint:errcheck // it holds nothing
	if truncate(db) != nil {
		i.timer = time.AfterFunc(i.after, i.rest)
	}
}

func (i *idle) stop() {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.ended = true
	if i.timer != nil {
		i.timer.Stop()
	}
}

// truncate moves everything from the log into the file. It fails with errInUse while
// another connection still needs the log.
func truncate(db *sql.DB) error {
	var inUse, pages, moved int
	err := db.QueryRow("PRAGMA wal_checkpoint(TRUNCATE)").Scan(&inUse, &pages, &moved)
	if err == nil && inUse != 0 {
		return errInUse
	}
	return err
}
