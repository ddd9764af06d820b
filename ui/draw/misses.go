package draw

import "fmt"

// Miss is by how far the water was found deeper than said at a place; below 0 it was
// found shallower.
type Miss struct{ XKM, YKM, DeeperM float64 }

// Block is an upright rectangle of the plane.
type Block struct{ MinXKM, MinYKM, MaxXKM, MaxYKM float64 }

// MissesOptions are the sheet and the words of a map of misses.
type MissesOptions struct {
	WidthMM, HeightMM float64
	ID, Title, Desc   string
	North             string               // letter at the north arrow; empty for no arrow
	Words             map[string]string    // "plot.deeper", "plot.shallower", "plot.block"
	Distance          func(float64) string // writes the scale bar's length given in m; nil: "500 m", "2 km"
	Depth             func(float64) string // writes a miss given in m; nil: "2 m"
	Empty             string               // said in place of the map where there is nothing to map
}

var blockLine = line("#8a8f96", 0.2, 1.2, 0.8)

// Misses maps where the water was found deeper than said (a full triangle pointing
// down) and where shallower (an open one pointing up). The area of a triangle goes with
// the size of the miss; the largest lie at the back.
//
//   - Units: coordinates in km of one plane, X east and Y north; misses in m; sizes in mm.
//   - Errors: values that are not finite, a block without size, no room.
func Misses(misses []Miss, blocks []Block, o MissesOptions) (Scene, error) {
	po := PlotOptions{WidthMM: o.WidthMM, HeightMM: o.HeightMM, ID: o.ID, Title: o.Title, Desc: o.Desc, Empty: o.Empty}
	if len(misses) == 0 {
		return po.nothing()
	}
	area, err := missesExtent(misses, blocks)
	if err != nil {
		return Scene{}, err
	}
	g := newGauge(misses, o.WidthMM*o.HeightMM)
	around, room, err := po.page(o.entries(g, len(blocks) > 0))
	if err != nil {
		return Scene{}, err
	}
	f := missFrame(area, room, g.fullMM)
	marks := append(blockMarks(f, blocks), g.marks(f, misses)...)
	items := append(around, outlined(room), Group{Items: marks})
	items = append(items, scaleBar(f, o.Distance)...)
	if o.North != "" {
		items = append(items, northArrow(Point{room.X + room.WidthMM - 5, room.Y + room.HeightMM - 11}, o.North)...)
	}
	return po.sheet(items), nil
}

// missesExtent is in m, as the scale bar needs it.
func missesExtent(misses []Miss, blocks []Block) (extent, error) {
	e := noExtent()
	for i, m := range misses {
		if !finite(m.DeeperM) {
			return e, fmt.Errorf("draw: miss %d is %v m", i+1, m.DeeperM)
		}
		e = e.with(Point{1000 * m.XKM, 1000 * m.YKM})
	}
	for i, b := range blocks {
		if !(b.MinXKM < b.MaxXKM) || !(b.MinYKM < b.MaxYKM) {
			return e, fmt.Errorf("draw: block %d has no size", i+1)
		}
		e = e.with(Point{1000 * b.MinXKM, 1000 * b.MinYKM}, Point{1000 * b.MaxXKM, 1000 * b.MaxYKM})
	}
	return e, e.check()
}

// missFrame keeps the whole of every mark inside the room, and a strip at its foot free
// for scale bar and north arrow.
func missFrame(area extent, room Rect, markMM float64) frame {
	const strip = 12.0
	inner := room
	inner.HeightMM -= strip
	shareX, shareY := markMM/(inner.WidthMM-2*markMM), markMM/(inner.HeightMM-2*markMM)
	f := mapFrame(area.grown(shareX, shareY, 50), inner)
	metresPerMM := (f.x.to - f.x.from) / inner.WidthMM
	f.y.from -= strip * metresPerMM
	f.y.fromMM += strip
	return f
}

// blockMarks draws the blocks a little small, so that the edges of neighbours stay apart.
func blockMarks(f frame, blocks []Block) []Item {
	var items []Item
	for _, b := range blocks {
		from, to := f.point(1000*b.MinXKM, 1000*b.MaxYKM), f.point(1000*b.MaxXKM, 1000*b.MinYKM)
		inset := min(0.3, (to.X-from.X)/4, (to.Y-from.Y)/4)
		items = append(items, Rect{from.X + inset, from.Y + inset, to.X - from.X - 2*inset, to.Y - from.Y - 2*inset, Fill{}, blockLine})
	}
	return items
}
