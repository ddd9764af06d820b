package tile

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
	"github.com/paulmach/orb/simplify"
)

const (
	contourFrom  = 9  // the zoom from which contours are shown
	contourCells = 64 // across a tile
	leastStepM   = 2  // between contours: elevations of whole metres tell no more
	strongEvery  = 5
)

// StepM returns how far contours are apart at a zoom, metres; 0 where none are shown. The
// whole land is told in about eight to thirty steps.
func (r *Relief) StepM(z maptile.Zoom) float64 {
	switch {
	case z < contourFrom || r.reachM <= 0:
		return 0
	case z < 11:
		return max(round(r.reachM/8), leastStepM)
	case z < 13:
		return max(round(r.reachM/16), leastStepM)
	}
	return max(round(r.reachM/30), leastStepM)
}

// round returns the nearest of 1, 2 and 5 times a power of ten.
func round(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v)))
	for _, step := range []float64{1, 2, 5} {
		if v < step*unit*math.Sqrt2 {
			return step * unit
		}
	}
	return 10 * unit
}

// Contours returns the layer "contours" of a tile: lines with their elevation m, and
// strong on every fifth.
func (r *Relief) Contours(t maptile.Tile) mvt.Layers {
	out := layer("contours", 0)
	step := r.StepM(t.Z)
	if step == 0 {
		return nil
	}
	at := r.sample(t, contourCells, 0)
	low, high := at.extent()
	for k := math.Ceil(low / step); k*step <= high; k++ {
		lines := at.contour(k * step)
		if len(lines) == 0 {
			continue
		}
		f := geojson.NewFeature(lines)
		f.Properties["m"] = k * step
		if math.Mod(k, strongEvery) == 0 {
			f.Properties["strong"] = true
		}
		out.Features = append(out.Features, f)
	}
	return full(out)
}

func (n nodes) extent() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i, z := range n.z {
		if n.ok[i] {
			low, high = min(low, z), max(high, z)
		}
	}
	return low, high
}

// edge is a side of a cell: between a node and the next to the east, or to the south.
type edge struct {
	node int
	down bool
}

// contour returns the lines along which the land is of one elevation, in the coordinates
// of the tile (marching squares; Lorensen and Cline, 1987, in the plane). A saddle is cut
// by the mean of its corners.
func (n nodes) contour(level float64) orb.MultiLineString {
	ends := map[edge][]edge{}
	for row := range n.side - 1 {
		for col := range n.side - 1 {
			for _, cut := range n.cuts(row*n.side+col, level) {
				ends[cut[0]] = append(ends[cut[0]], cut[1])
				ends[cut[1]] = append(ends[cut[1]], cut[0])
			}
		}
	}
	return n.join(ends, level)
}

// cuts returns the pieces of a contour through one cell, by the sides that they cross.
func (n nodes) cuts(i int, level float64) [][2]edge {
	corners := [4]int{i, i + 1, i + n.side + 1, i + n.side} // clockwise from the north-west
	sides := [4]edge{{i, false}, {i + 1, true}, {i + n.side, false}, {i, true}}
	var crossed []edge
	sum := 0.0
	for k, c := range corners {
		if !n.ok[c] {
			return nil
		}
		sum += n.z[c]
		if n.above(c, level) != n.above(corners[(k+1)%4], level) {
			crossed = append(crossed, sides[k])
		}
	}
	switch len(crossed) {
	case 2:
		return [][2]edge{{crossed[0], crossed[1]}}
	case 4:
		if n.above(corners[0], level) == (sum/4 >= level) { // the middle belongs to this corner
			return [][2]edge{{sides[0], sides[1]}, {sides[2], sides[3]}}
		}
		return [][2]edge{{sides[3], sides[0]}, {sides[1], sides[2]}}
	}
	return nil
}

func (n nodes) above(i int, level float64) bool { return n.z[i] >= level }

// join makes lines of pieces: those that begin at the tile's edge first, then rings. It
// goes through the sides in order, so that the same land gives the same lines.
func (n nodes) join(ends map[edge][]edge, level float64) (out orb.MultiLineString) {
	for _, open := range []bool{true, false} {
		for i := range n.z {
			for _, down := range []bool{false, true} {
				e := edge{i, down}
				if len(ends[e]) > 0 && (!open || len(ends[e]) == 1) {
					out = append(out, simplify.DouglasPeucker(fine).LineString(n.walk(ends, e, level)))
				}
			}
		}
	}
	return out
}

// walk follows a line from a side to its end, and takes its pieces away.
func (n nodes) walk(ends map[edge][]edge, at edge, level float64) orb.LineString {
	line := orb.LineString{n.point(at, level)}
	for len(ends[at]) > 0 {
		next := ends[at][0]
		ends[at] = ends[at][1:]
		ends[next] = without(ends[next], at)
		at = next
		line = append(line, n.point(at, level))
	}
	return line
}

func without(all []edge, one edge) []edge {
	for i, e := range all {
		if e == one {
			return append(all[:i:i], all[i+1:]...)
		}
	}
	return all
}

// point is where a contour crosses a side.
func (n nodes) point(e edge, level float64) orb.Point {
	other := e.node + 1
	if e.down {
		other = e.node + n.side
	}
	part := (level - n.z[e.node]) / (n.z[other] - n.z[e.node])
	const unit = mvt.DefaultExtent / contourCells
	x, y := float64(e.node%n.side)*unit, float64(e.node/n.side)*unit
	if e.down {
		y += part * unit
	} else {
		x += part * unit
	}
	return orb.Point{math.Round(x), math.Round(y)}
}
