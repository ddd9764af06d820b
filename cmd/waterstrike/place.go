package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/geo"
)

// place puts a file in place once it is whole; it never replaces one that is there.
func (a *app) place(path string, write func(io.Writer) error) (err error) {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return inTheWay(path, err)
	}
	part, err := os.CreateTemp(filepath.Dir(path), ".waterstrike-*")
	if errors.Is(err, fs.ErrNotExist) {
		return noFolder(path, err)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(part.Name())
		}
	}()
	err = errors.Join(write(part), part.Chmod(0o644), part.Close())
	if err != nil {
		return err
	}
	return os.Rename(part.Name(), path)
}

// inTheWay is the failure to write where something is already.
func inTheWay(path string, err error) error {
	return geo.Fail(geo.Conflict, "place", geo.Say("command.file-exists", geo.With("file", geo.Text(path))), err)
}

// noFolder is the failure to write into a folder that is not there.
func noFolder(path string, err error) error {
	return geo.Fail(geo.NotFound, "place", geo.Say("command.no-folder", geo.With("file", geo.Text(filepath.Dir(path)))), err)
}

// emptyFolder fails where a folder holds anything, or is none.
func emptyFolder(path string) error {
	held, err := os.ReadDir(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) || len(held) > 0 {
		return inTheWay(path, err)
	}
	return nil
}

// wholeFolder fills a folder beside the wanted one and renames it once all is in it. It
// never writes into a folder that holds anything.
func wholeFolder(path string, fill func(dir string) error) error {
	if err := emptyFolder(path); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	part, err := os.MkdirTemp(filepath.Dir(path), ".waterstrike-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(part) // nothing is there after the rename
	if err := errors.Join(os.Chmod(part, 0o755), fill(part)); err != nil {
		return err
	}
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) { // an empty one
		return err
	}
	return os.Rename(part, path)
}
