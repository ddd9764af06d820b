package publish

import (
	"context"
	"io"

	"waterstrike/geo"
)

// Bores is where bores come from.
type Bores interface {
	// Bores calls fn with every bore in a fixed order, and returns the first error of fn.
	Bores(ctx context.Context, fn func(geo.Bore) error) error
}

// Villages is where villages come from.
type Villages interface {
	// Villages calls fn with every village in a fixed order, and returns its first error.
	Villages(ctx context.Context, fn func(geo.Village) error) error
}

// WaterPoints is where water points come from.
type WaterPoints interface {
	// WaterPoints calls fn with every point in a fixed order, and returns its first error.
	WaterPoints(ctx context.Context, fn func(geo.WaterPoint) error) error
}

// Boundaries is where boundaries come from.
type Boundaries interface {
	// Boundaries calls fn with every one in a fixed order, and returns its first error.
	Boundaries(ctx context.Context, fn func(geo.Boundary) error) error
}

// Rivers is where rivers come from.
type Rivers interface {
	// Rivers calls fn with every river in a fixed order, and returns its first error.
	Rivers(ctx context.Context, fn func(geo.River) error) error
}

// Source is where everything comes from; a knowledge base is one.
type Source interface {
	Bores
	Villages
	WaterPoints
	Boundaries
	Rivers
}

// File is one file of an export.
type File struct {
	Name  string
	Write func(ctx context.Context, w io.Writer, src Source) error
}

// walk is the method of any of them.
type walk[T any] func(ctx context.Context, fn func(T) error) error
