package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Folder is the path of a data folder: the knowledge base and what stands beside it.
type Folder string

// Ground is the path of the knowledge base.
func (f Folder) Ground() string { return filepath.Join(string(f), "ground.gpkg") }

// Terrain is where elevation grids lie.
func (f Folder) Terrain() string { return filepath.Join(string(f), "terrain") }

// Charts is where maps in pictures lie that others made.
func (f Folder) Charts() string { return filepath.Join(string(f), "charts") }

// Draft is the path of the draft of an import.
func (f Folder) Draft(name string) string { return filepath.Join(string(f), "drafts", name+".db") }

// Arrival is the folder of files that were handed in together.
func (f Folder) Arrival(name string) string { return filepath.Join(string(f), "drafts", name) }

// Backup is the path of a backup.
func (f Folder) Backup(name string) string { return filepath.Join(string(f), "backups", name+".gpkg") }

// Make creates the folder and its rooms where they are missing.
func (f Folder) Make() error {
	for _, path := range []string{f.Draft("x"), f.Backup("x")} {
		if err := os.MkdirAll(filepath.Dir(path), 0o750); err != nil {
			return err
		}
	}
	return nil
}

// draftAge is how long an import may take; a draft not written to for longer was left by
// one that was killed.
const draftAge = 24 * time.Hour

// SweepDrafts removes the drafts that imports left behind when they were killed.
func (f Folder) SweepDrafts(now time.Time) error {
	paths, err := fs.Glob(os.DirFS(string(f)), "drafts/*.db")
	for _, path := range paths {
		full := filepath.Join(string(f), filepath.FromSlash(path))
		info, statErr := os.Stat(full)
		if statErr == nil && now.Sub(info.ModTime()) > draftAge {
			err = errors.Join(err, removed(full))
		}
	}
	return err
}
