package terrain

import (
	"context"
	"errors"
	"runtime"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Options are what [Derive] and [Prepare] may be told.
type Options struct {
	DrainageM2 float64          // contributing area from which a cell is drainage
	RiverM2    float64          // contributing area from which drainage is a river; not below DrainageM2
	Sea        geo.Opt[float64] // elevation at and below which a cell is sea; metres
	LeastCellM float64          // for Prepare: finer cells are averaged until they reach it
	MarginM    float64          // for Prepare: how much of the land around the region counts
}

// Defaults returns the options for a survey: drainage from 1 km², rivers from 10 km², no
// sea, cells of one arc-second (31 m) kept and finer ones averaged, 5 km of margin. Common
// practice, no source.
func Defaults() Options {
	return Options{DrainageM2: DefaultDrainageM2, RiverM2: 10 * DefaultDrainageM2, LeastCellM: 25, MarginM: 5000}
}

// Setting is the shape of the land at one point, as far as it is known.
type Setting struct {
	GroundM        geo.Opt[float64] `json:"ground_m,omitzero"`         // elevation
	Slope          geo.Opt[float64] `json:"slope,omitzero"`            // m/m
	AboveDrainageM geo.Opt[float64] `json:"above_drainage_m,omitzero"` // height above the drainage it drains to
	ToDrainageM    geo.Opt[float64] `json:"to_drainage_m,omitzero"`    // distance to the nearest drainage
	AboveRiverM    geo.Opt[float64] `json:"above_river_m,omitzero"`    // height above the river it drains to
	Around         geo.Opt[Around]  `json:"around,omitzero"`           // the land about it
}

// Terrain is the elevations of a region with what was derived from them, in memory or in
// files. It may be asked by any number of goroutines.
type Terrain struct {
	Frame
	key               string
	ground, above, to cells
	river             cells // heights above rivers
	files             []*File
}

// Derive works out heights above drainage and distances to it.
//
//   - Errors: the context's when it ends.
//   - Cost: at most 18 bytes a cell besides the grid while it works, 12 of which stay, and
//     12 for each cell of the flood's edge; about 1 µs a cell.
//   - Source: [Route], [Flow.Accumulate], [Flow.AboveDrainage], [Drainage.Distance].
func Derive(ctx context.Context, g *Grid, o Options, progress Progress) (*Terrain, error) {
	flow, err := Route(ctx, g, o.Sea, progress)
	if err != nil {
		return nil, err
	}
	up, err := flow.Accumulate(ctx, progress)
	if err != nil {
		return nil, err
	}
	streams, rivers := flow.Drainage(up, o.DrainageM2), flow.Drainage(up, max(o.RiverM2, o.DrainageM2))
	release(&up)
	above, err := flow.AboveDrainage(ctx, streams, progress)
	if err != nil {
		return nil, err
	}
	river, err := flow.AboveDrainage(ctx, rivers, progress)
	if err != nil {
		return nil, err
	}
	release(&flow)
	release(&rivers)
	to, err := streams.Distance(ctx, progress)
	if err != nil {
		return nil, err
	}
	// Distance is known for cells without ground too; say nothing of those.
	for i, z := range g.z {
		if !known(z) {
			to.z[i] = missing
		}
	}
	return &Terrain{Frame: g.Frame, ground: g, above: above, to: to, river: river}, nil
}

// release forgets what was worked out and makes its room free at once: left to itself,
// the collector would let garbage grow as large as all grids together.
func release[T any](p **T) {
	*p = nil
	runtime.GC()
}

// At returns the shape of the land at a position; outside, all of it is missing.
//
//   - Units: degrees in; out as the fields of [Setting] say.
//   - Domain: interpolated bilinearly, as [Grid.Value]; slopes between those of the cells.
func (t *Terrain) At(p coord.LonLat) Setting {
	row, _, ok := t.Cell(p)
	if !ok {
		return Setting{}
	}
	w, h := t.CellM(max(0, min(int(row+0.5), t.Rows-1)))
	value := func(c cells) geo.Opt[float64] {
		if z, ok := valueAt(t.Frame, c, p); ok {
			return geo.Some(z)
		}
		return geo.Opt[float64]{}
	}
	return Setting{
		GroundM: value(t.ground), Slope: value(slopes{t.ground, w, h}),
		AboveDrainageM: value(t.above), ToDrainageM: value(t.to),
		AboveRiverM: value(t.river), Around: t.around(p),
	}
}

// ID names what the terrain was made of: the same files and options have the same id.
// One that was never in files has none.
func (t *Terrain) ID() string { return t.key }

// Err returns the first fault met while reading files, nil if there was none.
func (t *Terrain) Err() error {
	for _, f := range t.files {
		if err := f.Err(); err != nil {
			return err
		}
	}
	return nil
}

// Close releases the files, if any.
func (t *Terrain) Close() error {
	var all []error
	for _, f := range t.files {
		all = append(all, f.Close())
	}
	return errors.Join(all...)
}
