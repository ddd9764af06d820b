package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
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
	return arrival.Exported(path)
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
		if arrival.Foreign(err) {
			err = geo.Fail(geo.Invalid, "import", geo.Say("import.foreign", geo.With("file", geo.Text(path))), err)
		}
		return summary, err
	}}
}

// copyBase hands on the records of a knowledge base that is there.
func (a *app) copyBase(path string, draft *store.Draft) (intake.Summary, error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return intake.Summary{}, err
	}
	return arrival.CopyBase(a.ctx, path, draft, a.progress())
}
