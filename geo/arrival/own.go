package arrival

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
)

// readOwn reads what this program exported, which needs no matching; not done where it is
// another's.
func (d *Desk) readOwn(ctx context.Context, a Arrival, j *job) (done bool, err error) {
	if len(a.Files) != 1 || !Exported(a.Files[0].Name) {
		return false, nil
	}
	name := a.Files[0].Name
	a.Own = true
	err = d.fill(ctx, a, j, func(draft *store.Draft) (intake.Summary, error) {
		if strings.EqualFold(filepath.Ext(name), ".gpkg") {
			return CopyBase(ctx, filepath.Join(d.files(a.ID), name), draft, j.rows())
		}
		return publish.Read(ctx, FilesOf(d.files(a.ID)), name, draft, j.rows())
	})
	if Foreign(err) {
		return false, nil
	}
	return true, err
}

// Exported tells that a file may be what this program exported, by the end of its name.
func Exported(name string) bool {
	return slices.Contains([]string{".gpkg", ".geojson", ".csv", ".xlsx"}, strings.ToLower(filepath.Ext(name)))
}

// Foreign tells that records are not this program's.
func Foreign(err error) bool {
	var failure *geo.Error
	return errors.Is(err, publish.ErrForeign) || errors.As(err, &failure) && failure.Message.Code == "store.not-a-base"
}

// CopyBase hands the records of a knowledge base on to a draft; the base is left as it is.
func CopyBase(ctx context.Context, path string, draft *store.Draft, progress intake.Progress) (summary intake.Summary, err error) {
	options := store.DefaultOptions()
	options.ReadOnly = true
	base, err := store.Open(path, options)
	if err != nil {
		return summary, err
	}
	defer func() { err = errors.Join(err, base.Close()) }()
	return publish.Copy(ctx, filepath.Base(path), base, draft, progress)
}
