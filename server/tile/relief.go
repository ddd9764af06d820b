package tile

import (
	"context"
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// Relief is the shape of the land as a map shows it. It is safe for concurrent use.
type Relief struct {
	fine    *terrain.Mosaic
	rough   *terrain.Grid // all of it, in at most roughCells
	fineM   float64       // sizes of their cells, m
	roughM  float64
	steep   float64 // by how much slopes are overdrawn
	reachM  float64 // of elevations: from the second to the last but one in a hundred
	Streams []terrain.Stream
}

// roughCells bounds the grid that is kept of all elevations: 8 MB, a second of work.
const roughCells = 2e6

// NewRelief reads elevations and works out the streams that they make.
//
//   - Errors: [geo.NotFound] where there are none; those of the files; the context's.
//   - Cost: about 1 µs a cell of the grid it keeps, once.
func NewRelief(ctx context.Context, m *terrain.Mosaic) (*Relief, error) {
	box := m.Bound()
	rough, err := m.Grid(ctx, box, math.Sqrt(areaM2(box)/roughCells), nil)
	if err != nil {
		return nil, err
	}
	r := &Relief{fine: m, rough: rough}
	r.roughM, _ = rough.CellM(rough.Rows / 2)
	r.fineM = r.roughM
	middle := box.Center()
	if spot, err := m.Grid(ctx, orb.Bound{Min: middle, Max: middle}.Pad(1e-4), 0, nil); err == nil {
		r.fineM, _ = spot.CellM(0)
	}
	r.measure()
	return r, r.trace(ctx)
}

func areaM2(box orb.Bound) float64 {
	const degreeM = 111_320
	return (box.Max[0] - box.Min[0]) * (box.Max[1] - box.Min[1]) * degreeM * degreeM * math.Cos(box.Center()[1]*math.Pi/180)
}

// measure finds out how high and how steep the land is: a plain is overdrawn, mountains
// are not.
func (r *Relief) measure() {
	var heights, slopes []float64
	for row := 0; row < r.rough.Rows; row += 3 {
		for col := 0; col < r.rough.Cols; col += 3 {
			if z, ok := r.rough.At(row, col); ok {
				heights = append(heights, z)
			}
			if s, ok := r.rough.Slope(row, col); ok {
				slopes = append(slopes, s)
			}
		}
	}
	if len(heights) == 0 || len(slopes) == 0 {
		return
	}
	slices.Sort(heights)
	slices.Sort(slopes)
	r.reachM = heights[len(heights)*98/100] - heights[len(heights)*2/100]
	const good = 0.3 // the slope that shades well
	r.steep = min(max(good/max(slopes[len(slopes)*9/10], 1e-6), 1), 25)
}

func (r *Relief) trace(ctx context.Context) error {
	flow, err := terrain.Route(ctx, r.rough, geo.Some(0.0), nil) // no streams in the sea, nor in hollows below its level
	if err != nil {
		return err
	}
	up, err := flow.Accumulate(ctx, nil)
	if err != nil {
		return err
	}
	r.Streams = flow.Streams(up, flow.Drainage(up, terrain.Defaults().RiverM2))
	return nil
}

// pixelM is the size on the ground of a pixel of a tile that is px wide.
func pixelM(t maptile.Tile, px int) float64 {
	const aroundM = 2 * math.Pi * 6378137 // of WebMercatorQuad's sphere
	lat := t.Center()[1] * math.Pi / 180
	return aroundM * math.Cos(lat) / float64(uint64(1)<<t.Z) / float64(px)
}

// nodes are elevations at evenly spaced places of a tile and around it.
type nodes struct {
	side int // of the square that they fill
	z    []float64
	ok   []bool
}

// sample reads elevations at every 1/n of a tile's width, with ring more on each side.
// Neighbouring tiles have the same ones at their common edge.
func (r *Relief) sample(t maptile.Tile, n, ring int) nodes {
	height := r.fine.Elevation
	if pixelM(t, n) >= r.roughM/2 || r.fineM >= r.roughM {
		height = r.rough.Value
	}
	side := n + 1 + 2*ring
	out := nodes{side, make([]float64, side*side), make([]bool, side*side)}
	across := float64(uint64(1) << t.Z)
	for row := range side {
		for col := range side {
			p := position((float64(t.X)+float64(col-ring)/float64(n))/across, (float64(t.Y)+float64(row-ring)/float64(n))/across)
			if p.Lat > -90 && p.Lat < 90 {
				i := row*side + col
				out.z[i], out.ok[i] = height(coord.LonLat{Lon: p.Lon, Lat: p.Lat})
			}
		}
	}
	return out
}

// Bound is the box of degrees within which the shape of the land is known.
func (r *Relief) Bound() orb.Bound { return r.fine.Bound() }

// Covers reports whether a tile meets land whose shape is known.
func (r *Relief) Covers(t maptile.Tile) bool { return r.fine.Bound().Intersects(t.Bound()) }
