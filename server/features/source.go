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
	Worked     bool       // its features are worked out when they are asked for: none can be asked for by its properties
	Most       int        // features on a page; 0 for the usual
	Properties []Property // in the order in which they are written
}

// most is how many features a page of the collection may hold.
func (c *Collection) most() int {
	if c.Most > 0 {
		return c.Most
	}
	return mostLimit
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
	Place  orb.Bound // where it is: a point, or a square where only that is known or told
	On     geo.Date  // zero where it has none, or nobody wrote it
	Values []any
}

// Where says which features are asked for.
type Where struct {
	Box         *orb.Bound // nil: anywhere; west of its east edge, or else across the antimeridian
	From, Until geo.Date   // both zero: any day
	Equal       []Equal

	// Squares, where it is not nil, tells the square that a position is told by. The
	// exact one is then neither compared with the box nor told.
	Squares func(orb.Point) orb.Bound
}

// Equal is a property that must have a value, as a parameter gives it.
type Equal struct {
	Property int // its place among those of the collection
	Value    string
}

// Source is where features come from. It is safe for concurrent use.
type Source interface {
	// Collections lists what there is, in a fixed order.
	Collections() []Collection
	// Extent is the box of all features of a collection; false where there is none.
	Extent(ctx context.Context, name string) (orb.Bound, bool, error)
	// Select reads features of a collection in a fixed order: those that w asks for. It
	// skips from of them, reads at most limit, and tells how many there are in all.
	Select(ctx context.Context, name string, w Where, from, limit int) (page []Feature, total int, err error)
	// Find reads one feature. A [geo.NotFound] error where there is none.
	Find(ctx context.Context, name, id string) (Feature, error)
}
