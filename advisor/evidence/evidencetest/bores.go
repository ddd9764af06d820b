// Package evidencetest holds a source of records for the tests of the rooms that answer.
package evidencetest

import (
	"context"

	"waterstrike/geo"
)

// Bores is a source of bores that never change, in order of their ids or not.
type Bores []geo.Bore

// Seq returns the number of the only change.
func (Bores) Seq(context.Context) (int64, error) { return 1, nil }

// Bores calls fn with every bore.
func (b Bores) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for _, x := range b {
		if err := fn(x); err != nil {
			return err
		}
	}
	return nil
}

// ChangedSince returns no bore.
func (Bores) ChangedSince(context.Context, int64) ([]geo.BoreID, int64, error) { return nil, 1, nil }

// BoresByID calls fn with no bore: none is touched.
func (Bores) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error { return nil }
