package features

import (
	"context"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Collection describes one kind of features.
type Collection struct {
	Name       string     // in addresses
	Title      geo.Code   // says what it is
	Dated      bool       // its features have a day
	Properties []Property // in the order in which they are written
}

// Property is one property of a collection's features.
type Property struct {
	Name string
	Type string // of JSON Schema: "string", "number", "integer" or "boolean"
}

// Feature is one record. Values stand in the order of the collection's properties; nil is
// missing.
type Feature struct {
	ID     string
	At     orb.Point
	On     geo.Date // zero where it has none, or nobody wrote it
	Values []any
}

// Unknown is how many features there are where nobody counted them and more follow.
const Unknown = -1

// Source is where features come from. It is safe for concurrent use.
type Source interface {
	// Collections lists what there is, in a fixed order.
	Collections() []Collection
	// Extent is the box of all features of a collection; false where there is none.
	Extent(ctx context.Context, name string) (orb.Bound, bool, error)
	// Select reads features of a collection in the order of their ids: those that lie in
	// the box, where there is one, and keep returns true of, where it is not nil. It skips
	// from of them, reads at most limit, and tells how many there are in all; [Unknown]
	// where more follow and counting them would take too long.
	Select(ctx context.Context, name string, box *orb.Bound, keep func(*Feature) bool, from, limit int) (page []Feature, total int, err error)
	// Find reads one feature. A [geo.NotFound] error where there is none.
	Find(ctx context.Context, name, id string) (Feature, error)
}
