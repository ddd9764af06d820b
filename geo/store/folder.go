package store

import (
	"os"
	"path/filepath"
)

// Folder is the path of a data folder: the knowledge base and what stands beside it.
type Folder string

// Ground is the path of the knowledge base.
func (f Folder) Ground() string { return filepath.Join(string(f), "ground.gpkg") }

// Draft is the path of the draft of an import.
func (f Folder) Draft(name string) string { return filepath.Join(string(f), "drafts", name+".db") }

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
