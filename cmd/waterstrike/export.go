package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/geo"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
)

// exportCmd writes the bores for other programs.
type exportCmd struct {
	Form string `arg:"" enum:"geojson,csv" help:"${flag_form}"`
	To   string `arg:"" type:"path" help:"${flag_to}"`
}

// writer writes all bores in one form.
type writer func(ctx context.Context, w io.Writer, src publish.Bores) error

// Run writes one GeoJSON file, or a folder of CSV files.
func (c *exportCmd) Run(a *app) error {
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	if c.Form == "geojson" {
		err = a.write(base, c.To, publish.BoresGeoJSON)
	} else {
		err = a.writeTables(base, c.To)
	}
	if err != nil {
		return err
	}
	counts, err := base.Counts(a.ctx)
	if err != nil {
		return err
	}
	a.say(geo.Say("command.wrote", geo.With("n", geo.Count(counts.Bores)), geo.With("file", geo.Text(c.To))))
	return nil
}

func (a *app) writeTables(base *store.Base, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	tables := []struct {
		name  string
		write writer
	}{{"bores.csv", publish.BoresCSV}, {"layers.csv", publish.LayersCSV}, {"levels.csv", publish.LevelsCSV}}
	for _, t := range tables {
		if err := a.write(base, filepath.Join(folder, t.name), t.write); err != nil {
			return err
		}
	}
	return nil
}

// write puts a file in place once it is whole; it never replaces one that is there.
func (a *app) write(base *store.Base, path string, write writer) (err error) {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return geo.Fail(geo.Conflict, "export", geo.Say("command.file-exists", geo.With("file", geo.Text(path))), err)
	}
	part, err := os.CreateTemp(filepath.Dir(path), ".waterstrike-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(part.Name())
		}
	}()
	err = errors.Join(write(a.ctx, part, base), part.Chmod(0o644), part.Close())
	if err != nil {
		return err
	}
	return os.Rename(part.Name(), path)
}
