package terrain

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// widen adds a margin of some metres around a region in degrees.
func widen(b orb.Bound, marginM float64) orb.Bound {
	lat := marginM / degreeM
	widest := max(math.Abs(b.Min[1]), math.Abs(b.Max[1]))
	lon := lat / max(math.Cos(widest*math.Pi/180), 0.01)
	return orb.Bound{
		Min: orb.Point{max(b.Min[0]-lon, -180), max(b.Min[1]-lat, -90)},
		Max: orb.Point{min(b.Max[0]+lon, 180), min(b.Max[1]+lat, 90)},
	}
}

// outlinePoints is how many points of each side of a box are carried from one system to
// another: its sides bend, but little.
const outlinePoints = 8

// box is the coordinates in a system that enclose a box in degrees; false where the
// system does not reach it.
func (s System) box(b orb.Bound) (orb.Bound, bool) {
	var out orb.Bound
	for i := range outlinePoints + 1 {
		for j := range outlinePoints + 1 {
			share := func(axis, k int) float64 {
				return b.Min[axis] + (b.Max[axis]-b.Min[axis])*float64(k)/outlinePoints
			}
			x, y, ok := s.xy(coord.LonLat{Lon: share(0, i), Lat: share(1, j)})
			if !ok {
				return out, false
			}
			if i == 0 && j == 0 {
				out = orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x, y}}
			}
			out = out.Extend(orb.Point{x, y})
		}
	}
	return out, true
}

// bound returns the box in degrees around a frame.
func (f Frame) bound() (out orb.Bound) {
	first := true
	for i := range outlinePoints + 1 {
		for j := range outlinePoints + 1 {
			x := f.West + (f.east()-f.West)*float64(i)/outlinePoints
			y := f.North - (f.North-f.south())*float64(j)/outlinePoints
			p, ok := f.System.lonLat(x, y)
			if !ok {
				continue
			}
			if first {
				out, first = orb.Bound{Min: orb.Point{p.Lon, p.Lat}, Max: orb.Point{p.Lon, p.Lat}}, false
			}
			out = out.Extend(orb.Point{p.Lon, p.Lat})
		}
	}
	return out
}

// Bound returns the box in degrees around all files; an empty one without any.
func (m *Mosaic) Bound() (out orb.Bound) {
	for i, f := range m.files {
		if i == 0 {
			out = f.bound()
		}
		out = out.Union(f.bound())
	}
	return out
}

// meets reports whether a frame has cells within a box in degrees.
func (f Frame) meets(b orb.Bound) bool {
	in, ok := f.System.box(b)
	return ok && in.Intersects(orb.Bound{Min: orb.Point{f.West, f.south()}, Max: orb.Point{f.east(), f.North}})
}

// over returns the frame of the cells of f's lattice that cover a box in degrees, n by n
// of them taken as one.
func (f Frame) over(b orb.Bound, n int) (Frame, error) {
	in, ok := f.System.box(b)
	if !ok {
		return Frame{}, geo.Fail(geo.Invalid, "terrain.Prepare", geo.Message{}, fmt.Errorf("the region leaves the system of its elevations; is it that large?"))
	}
	col := math.Floor((in.Min[0] - f.West) / f.CellX)
	row := math.Floor((f.North - in.Max[1]) / f.CellY)
	out := f
	out.West, out.North = f.West+col*f.CellX, f.North-row*f.CellY
	out.CellX, out.CellY = f.CellX*float64(n), f.CellY*float64(n)
	out.Cols = int(math.Ceil((in.Max[0] - out.West) / out.CellX))
	out.Rows = int(math.Ceil((out.North - in.Min[1]) / out.CellY))
	return out, out.small("terrain.Prepare")
}

// coarser is how many cells of a frame in a row reach a size on the ground.
func (f Frame) coarser(leastM float64) int {
	w, h := f.CellM(f.Rows / 2)
	return max(1, int(math.Ceil(leastM/min(w, h)-1e-6)))
}

// Grid reads the elevations within a box in degrees, on the lattice of the finest file
// there; cells smaller than leastCellM are averaged until they reach it.
//
//   - Errors: [geo.NotFound] where no file meets the box; [geo.Invalid] for more than
//     [MaxCells] cells and a file that cannot be read; the context's.
//   - Cost: 4 bytes a cell; about 0.1 µs for each cell of the finest file.
func (m *Mosaic) Grid(ctx context.Context, box orb.Bound, leastCellM float64, progress Progress) (*Grid, error) {
	which := m.finest(box)
	if which < 0 {
		return nil, geo.Fail(geo.NotFound, "terrain.Mosaic.Grid", geo.Message{}, fmt.Errorf("no file of the folder holds elevations within %v; put one there", box))
	}
	finest := m.files[which].Frame
	n := finest.coarser(leastCellM)
	frame, err := finest.over(box, n)
	if err != nil {
		return nil, err
	}
	g, err := NewGrid(frame)
	if err != nil {
		return nil, err
	}
	row := int(math.Round((finest.North - frame.North) / finest.CellY))
	col := int(math.Round((frame.West - finest.West) / finest.CellX))
	step := newSteps(ctx, progress, Reading, g.Rows)
	for r := range g.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		for c := range g.Cols {
			if z, ok := mean(patched{m, which}, row+r*n, col+c*n, n); ok {
				g.Set(r, c, z)
			}
		}
	}
	return g, m.Err()
}

// finest returns the first file in order that meets a box, -1 if none does.
func (m *Mosaic) finest(box orb.Bound) int {
	for i, f := range m.files {
		if f.meets(box) {
			return i
		}
	}
	return -1
}

// mean averages those of n by n cells that are known; false if none is.
func mean(c cells, row, col, n int) (float64, bool) {
	sum, count := 0.0, 0
	for i := range n * n {
		if z, ok := c.At(row+i/n, col+i%n); ok {
			sum, count = sum+z, count+1
		}
	}
	return sum / float64(max(count, 1)), count > 0
}
