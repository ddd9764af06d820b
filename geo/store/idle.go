package store

import (
	"database/sql"
	"errors"
	"sync"
	"time"
)

// idle empties the write-ahead log once nothing was written for a while: people copy the
// one file they see.
type idle struct {
	path    string
	after   time.Duration
	mu      sync.Mutex
	timer   *time.Timer
	ended   bool
	resting sync.WaitGroup
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

// rest empties the log; a busy file is tried again later.
func (i *idle) rest() {
	i.mu.Lock()
	if i.ended {
		i.mu.Unlock()
		return
	}
	i.resting.Add(1)
	i.mu.Unlock()
	err := i.empty()
	i.resting.Done()
	if err != nil {
		i.wrote()
	}
}

// empty works on a connection of its own, which makes nobody wait for long.
func (i *idle) empty() error {
	db, err := sql.Open("sqlite", dsn(i.path, "mode=rw&_pragma=busy_timeout(50)"))
	if err != nil {
		return err
	}
	return errors.Join(truncate(db), db.Close())
}

// stop ends the waiting and any emptying under way.
func (i *idle) stop() {
	i.mu.Lock()
	i.ended = true
	if i.timer != nil {
		i.timer.Stop()
	}
	i.mu.Unlock()
	i.resting.Wait()
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
