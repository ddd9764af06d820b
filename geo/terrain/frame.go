package terrain

import (
	"fmt"
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// MaxCells is the largest grid that is held in memory: 16,000 by 16,000 cells.
const MaxCells = 1 << 28

// Frame says where the cells of a grid lie. West and North are the outer edges of its
// north-west cell; they and the sizes of a cell are in the units of System.
type Frame struct {
	System       System
	Rows, Cols   int
	West, North  float64
	CellX, CellY float64
}

// check returns what is wrong with a frame.
func (f Frame) check() error {
	for _, v := range []float64{f.West, f.North, f.CellX, f.CellY} {
		if math.IsNaN(v) || math.Abs(v) > 1e9 {
			return fmt.Errorf("a corner or cell size of %v; give finite numbers", v)
		}
	}
	switch {
	case f.Rows < 1 || f.Cols < 1 || f.Rows > MaxCells || f.Cols > MaxCells:
		return fmt.Errorf("%d rows and %d columns; give at least one of each and at most %d", f.Rows, f.Cols, MaxCells)
	case f.CellX < 1e-9 || f.CellY < 1e-9:
		return fmt.Errorf("cells of %v by %v; give positive sizes", f.CellX, f.CellY)
	case !f.System.Metric && !f.onEarth():
		return fmt.Errorf("degrees from %v west, %v north for %d by %d cells of %v by %v leave the globe; is the system right?",
			f.West, f.North, f.Rows, f.Cols, f.CellX, f.CellY)
	}
	return nil
}

// onEarth reports whether a frame in degrees stays on the globe. Grids of points have
// half a cell beyond a pole, some services one cell beyond the antimeridian.
func (f Frame) onEarth() bool {
	return f.North <= 90+f.CellY && f.south() >= -90-f.CellY && f.West >= -180-f.CellX && f.east() <= 360+f.CellX
}

func (f Frame) south() float64 { return f.North - float64(f.Rows)*f.CellY }
func (f Frame) east() float64  { return f.West + float64(f.Cols)*f.CellX }

// small returns an error of kind [geo.Invalid] for a frame that is wrong or too large
// to hold.
func (f Frame) small(op string) error {
	err := f.check()
	if err == nil && f.Rows > MaxCells/f.Cols {
		err = fmt.Errorf("%d by %d cells are more than %d; take larger cells or a smaller region", f.Rows, f.Cols, MaxCells)
	}
	if err != nil {
		return geo.Fail(geo.Invalid, op, geo.Message{}, err)
	}
	return nil
}

// Middle returns the position of the middle of a cell; false where the frame has no
// place on earth.
func (f Frame) Middle(row, col int) (coord.LonLat, bool) {
	return f.System.lonLat(f.West+(float64(col)+0.5)*f.CellX, f.North-(float64(row)+0.5)*f.CellY)
}

// Cell returns the row and column of a position as fractions: whole numbers at the
// middles of cells. False outside the frame.
//
//   - Units: degrees in; rows south and columns east of the middle of the north-west cell.
//   - Domain: valid positions; a grid in degrees may run past 180 degrees east.
func (f Frame) Cell(p coord.LonLat) (row, col float64, ok bool) {
	x, y, ok := f.System.xy(p)
	if !f.System.Metric && x < f.West && f.east() > 180 {
		x += 360
	}
	row, col = (f.North-y)/f.CellY-0.5, (x-f.West)/f.CellX-0.5
	ok = ok && row >= -0.5 && col >= -0.5 && row <= float64(f.Rows)-0.5 && col <= float64(f.Cols)-0.5
	return row, col, ok
}

// CellM returns the size of a cell of a row on the ground.
//
//   - Units: metres east-west and north-south. UTM cells are taken as they are, whose
//     scale is off by at most 0.1 % within a zone.
//   - Domain: rows of the frame; beside a pole the width is at least a millimetre.
//   - Source: geodesics of [coord.DistanceM] through the row's middle.
func (f Frame) CellM(row int) (widthM, heightM float64) {
	if f.System.Metric {
		return f.CellX, f.CellY
	}
	lat := clampLat(f.North - (float64(row)+0.5)*f.CellY)
	at := func(lon, lat float64) coord.LonLat { return coord.LonLat{Lon: lon, Lat: clampLat(lat)} }
	// A degree or less at a time: a geodesic leaves the parallel on longer ways.
	span := min(f.CellX, 1)
	widthM = coord.DistanceM(at(0, lat), at(span, lat)) * f.CellX / span
	heightM = coord.DistanceM(at(0, lat-f.CellY/2), at(0, lat+f.CellY/2))
	return max(widthM, 1e-3), max(heightM, 1e-3)
}

func clampLat(lat float64) float64 { return max(-90, min(lat, 90)) }
