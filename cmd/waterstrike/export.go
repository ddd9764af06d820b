package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"

	"waterstrike/geo"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
)

// exportCmd writes the records for other programs.
type exportCmd struct {
	Form string `arg:"" enum:"geojson,csv,xlsx,gpkg,water-points" help:"${flag_form}"`
	To   string `arg:"" type:"path" help:"${flag_to}"`
}

// writer writes one file of an export.
type writer func(ctx context.Context, w io.Writer, src publish.Source) error

// Run writes a folder of files with everything, or one file.
func (c *exportCmd) Run(a *app) error {
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	switch c.Form {
	case "csv":
		err = a.writeAll(base, c.To, publish.CSVFiles(), publish.CSVType)
	case "xlsx":
		err = a.write(base, c.To, func(ctx context.Context, w io.Writer, src publish.Source) error {
			return publish.XLSX(ctx, w, src, a.code)
		})
	case "gpkg":
		err = a.writePackage(base, c.To)
	case "water-points":
		return a.writeReports(base, c.To)
	default:
		if filepath.Ext(c.To) == ".geojson" {
			err = a.write(base, c.To, func(ctx context.Context, w io.Writer, src publish.Source) error {
				return publish.BoresGeoJSON(ctx, w, src)
			})
			break
		}
		err = errors.Join(a.writeAll(base, c.To, publish.GeoJSONFiles(), publish.GeoJSONType), a.writeStyle(c.To))
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

// writeAll writes files into a folder, which is made where it is not there, and beside
// them what they are.
func (a *app) writeAll(base *store.Base, folder string, files []publish.File, kind string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := a.write(base, filepath.Join(folder, f.Name), f.Write); err != nil {
			return err
		}
	}
	text, err := a.dataset(base, folder, files, kind)
	if err != nil {
		return err
	}
	return a.placeBytes(filepath.Join(folder, "dataset.jsonld"), text)
}

// write puts an export in place once it is whole.
func (a *app) write(base *store.Base, path string, write writer) error {
	return a.place(path, func(w io.Writer) error { return write(a.ctx, w, base) })
}

func (a *app) placeBytes(path string, text []byte) error {
	return a.place(path, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}

// writeReports writes the visits to water points for their exchange.
func (a *app) writeReports(base *store.Base, path string) error {
	reports, left := 0, 0
	err := a.place(path, func(w io.Writer) (err error) {
		reports, left, err = publish.Exchange(a.ctx, w, base)
		return err
	})
	if err != nil {
		return err
	}
	a.say(geo.Say("export.reports", geo.With("n", geo.Count(reports)), geo.With("file", geo.Text(path))))
	if left > 0 {
		a.say(geo.Say("export.reports-left", geo.With("n", geo.Count(left))))
	}
	return nil
}
