package main

import (
	"context"
	"os"
	"path/filepath"

	"waterstrike/advisor/coverage"
	"waterstrike/advisor/rule"
	"waterstrike/advisor/season"
	"waterstrike/geo/store"
)

// seasonRecords reads what a season is planned from and accounted for.
func seasonRecords(ctx context.Context, base *store.Base, snapshot string) (r season.Records, err error) {
	r.Snapshot = snapshot
	if err = base.Villages(ctx, gather(&r.Villages)); err != nil {
		return r, err
	}
	if err = base.WaterPoints(ctx, gather(&r.Points)); err != nil {
		return r, err
	}
	if err = base.Bores(ctx, gather(&r.Bores)); err != nil {
		return r, err
	}
	if err = base.Boundaries(ctx, gather(&r.Boundaries)); err != nil {
		return r, err
	}
	return r, base.Rivers(ctx, gather(&r.Rivers))
}

// gather appends every record to a list.
func gather[T any](to *[]T) func(T) error {
	return func(x T) error {
		*to = append(*to, x)
		return nil
	}
}

// standards are the standards of service: the programme's own where it keeps a list.
func (a *app) standards() ([]coverage.Standard, error) {
	return coverage.FromFolder(os.DirFS(filepath.Join(string(a.folder), rule.Folder)))
}
