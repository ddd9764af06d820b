package main

import (
	"context"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// source gives the knowledge base the shape that evidence reads.
type source struct{ *store.Base }

// ChangedSince returns the bores touched after seq and the number of the last change.
func (s source) ChangedSince(ctx context.Context, seq int64) ([]geo.BoreID, int64, error) {
	changed, err := s.Base.ChangedSince(ctx, seq)
	return changed.Bores, changed.Seq, err
}

// PointsChangedSince reports that a water point was touched after seq.
func (s source) PointsChangedSince(ctx context.Context, seq int64) (bool, error) {
	changed, err := s.Base.ChangedSince(ctx, seq)
	return slices.Contains(changed.Layers, store.WaterPointLayer), err
}
