package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
)

// own tells that a path names records rather than a mapping: what export wrote, a backup,
// or another office's knowledge base.
func own(path string) bool {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return true
	}
	return slices.Contains([]string{".gpkg", ".geojson", ".csv", ".xlsx"}, strings.ToLower(filepath.Ext(path)))
}

// ownExport reads what this program wrote: it needs no mapping.
func (a *app) ownExport(path string) origin {
	name := filepath.Base(path)
	return origin{name, "", store.Why{Reason: name}, func(draft *store.Draft) (summary intake.Summary, err error) {
		if strings.EqualFold(filepath.Ext(path), ".gpkg") {
			summary, err = a.copyBase(path, draft)
		} else {
			summary, err = publish.Read(a.ctx, os.DirFS(filepath.Dir(path)), name, draft, a.progress())
		}
		if foreign(err) {
			err = geo.Fail(geo.Invalid, "import", geo.Say("import.foreign", geo.With("file", geo.Text(path))), err)
		}
		return summary, err
	}}
}

// foreign tells that records are not this program's.
func foreign(err error) bool {
	var failure *geo.Error
	return errors.Is(err, publish.ErrForeign) || errors.As(err, &failure) && failure.Message.Code == "store.not-a-base"
}

// copyBase hands on the records of a knowledge base, which is left as it is.
func (a *app) copyBase(path string, draft *store.Draft) (summary intake.Summary, err error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return summary, err
	}
	options := store.DefaultOptions()
	options.ReadOnly = true
	base, err := store.Open(path, options)
	if err != nil {
		return summary, err
	}
	defer func() { err = errors.Join(err, base.Close()) }()
	return publish.Copy(a.ctx, filepath.Base(path), base, draft, a.progress())
}
