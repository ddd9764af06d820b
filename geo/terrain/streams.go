package terrain

import (
	"math"

	"github.com/paulmach/orb"
)

// Stream is a line that water follows over the land, from its upper to its lower end.
type Stream struct {
	Line   orb.LineString // WGS 84
	AreaM2 float64        // that drains through its upper end
}

// Streams follows the water through the cells of drainage. A line ends where it meets one
// that was followed before, and a new one begins where the area that drains through it
// has grown threefold: the large ones can then be told from the small.
//
//   - Units: degrees out; areas in square metres, counted in cells of the middle row.
//   - Domain: a frame that has a place on earth; without one there are none. The sea has
//     no streams.
//   - Checked by: TestStreams.
func (f *Flow) Streams(u *Upstream, d *Drainage) (out []Stream) {
	w, h := f.CellM(f.Rows / 2)
	t := tracing{f, u, d, make([]bool, len(f.to)), w * h}
	for cell, springs := range t.springs() {
		for at, more := cell, springs; more; {
			var s Stream
			s, at, more = t.follow(at)
			if len(s.Line) > 1 {
				out = append(out, s)
			}
		}
	}
	return out
}

type tracing struct {
	*Flow
	up     *Upstream
	in     *Drainage
	been   []bool
	areaM2 float64 // of a cell
}

// springs tells of each cell whether drainage begins there.
func (t tracing) springs() []bool {
	begins := make([]bool, len(t.to))
	for cell := range t.to {
		begins[cell] = t.in.has(cell) && !t.isSea(cell)
	}
	for cell := range t.to {
		if n, ok := t.next(cell); ok && t.in.has(cell) {
			begins[n] = false
		}
	}
	return begins
}

// follow goes down from a cell until the sea, a line of before or a much larger area; more
// tells that the water goes on from where it stopped.
func (t tracing) follow(cell int) (s Stream, at int, more bool) {
	s.AreaM2 = float64(t.up.cells[cell]) * t.areaM2
	size := t.size(cell)
	for {
		if p, on := t.Middle(cell/t.Cols, cell%t.Cols); on {
			s.Line = append(s.Line, p.Point())
		}
		if t.been[cell] || t.isSea(cell) {
			return s, cell, false
		}
		if len(s.Line) > 1 && t.size(cell) > size {
			return s, cell, true
		}
		t.been[cell] = true
		n, ok := t.next(cell)
		if !ok {
			return s, cell, false
		}
		cell = n
	}
}

// size tells areas apart that differ threefold.
func (t tracing) size(cell int) int {
	return int(math.Log(float64(max(t.up.cells[cell], 1))) / math.Log(3))
}
