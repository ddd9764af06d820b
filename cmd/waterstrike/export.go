package main

import (
	"context"
	"io"
	"os"
	"path/filepath"

	"waterstrike/geo"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
)

// exportCmd writes the records for other programs.
type exportCmd struct {
	Form string `arg:"" enum:"geojson,csv" help:"${flag_form}"`
	To   string `arg:"" type:"path" help:"${flag_to}"`
}

// writer writes one file of an export.
type writer func(ctx context.Context, w io.Writer, src publish.Source) error

// Run writes a folder of files with everything, or the bores alone as one GeoJSON file.
func (c *exportCmd) Run(a *app) error {
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	switch {
	case c.Form == "csv":
		err = a.writeAll(base, c.To, publish.CSVFiles())
	case filepath.Ext(c.To) == ".geojson":
		err = a.write(base, c.To, func(ctx context.Context, w io.Writer, src publish.Source) error {
			return publish.BoresGeoJSON(ctx, w, src)
		})
	default:
		err = a.writeAll(base, c.To, publish.GeoJSONFiles())
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

// writeAll writes files into a folder, which is made where it is not there.
func (a *app) writeAll(base *store.Base, folder string, files []publish.File) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := a.write(base, filepath.Join(folder, f.Name), f.Write); err != nil {
			return err
		}
	}
	return nil
}

// write puts an export in place once it is whole.
func (a *app) write(base *store.Base, path string, write writer) error {
	return a.place(path, func(w io.Writer) error { return write(a.ctx, w, base) })
}
