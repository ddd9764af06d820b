package publish

import (
	"context"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// Sink takes everything that a knowledge base holds; a draft of one does.
type Sink interface {
	intake.Sink
	// AddBoundary takes a boundary.
	AddBoundary(geo.Boundary) error
	// AddRiver takes a river.
	AddRiver(geo.River) error
}

// Copy hands on everything that src holds: another office's knowledge base, or a backup.
// name is what its records are counted under.
func Copy(ctx context.Context, name string, src Source, to Sink, progress intake.Progress) (intake.Summary, error) {
	file := intake.FileCount{File: name}
	one := func(add func() error) error {
		to.CountRow(name)
		file.Rows++
		if progress != nil && file.Rows%every == 0 {
			progress(name, file.Rows)
		}
		err := add()
		if err == nil {
			file.Applied++
		}
		return err
	}
	var out intake.Summary
	for _, walk := range []func() error{
		func() error {
			return src.Boundaries(ctx, func(b geo.Boundary) error { return one(func() error { return to.AddBoundary(b) }) })
		},
		func() error {
			return src.Rivers(ctx, func(r geo.River) error { return one(func() error { return to.AddRiver(r) }) })
		},
		func() error {
			return src.Villages(ctx, func(v geo.Village) error { out.Villages++; return one(func() error { return to.AddVillage(v) }) })
		},
		func() error {
			return src.WaterPoints(ctx, func(w geo.WaterPoint) error {
				out.WaterPoints++
				return one(func() error { return to.AddWaterPoint(w) })
			})
		},
		func() error {
			return src.Bores(ctx, func(b geo.Bore) error { out.Bores++; return one(func() error { return to.AddBore(string(b.ID), b) }) })
		},
	} {
		if err := walk(); err != nil {
			return out, err
		}
	}
	out.Files, out.Rows, out.Applied = []intake.FileCount{file}, file.Rows, file.Applied
	return out, nil
}
