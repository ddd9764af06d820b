package demoland

import (
	"context"
	"math"

	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// gridCell is the size of a cell of [Land.Grid], degrees: three arc-seconds.
const gridCell = 3.0 / 3600

// Grid returns the elevations as people have them from global grids: in whole metres,
// every three arc-seconds, sea and all.
//
//   - Errors: the context's when it ends.
//   - Cost: half a million elevations, about 4 s.
//   - Checked by: TestGridIsTheRelief.
func (l *Land) Grid(ctx context.Context, progress terrain.Progress) (*terrain.Grid, error) {
	a, b := l.lonLat(pt{-halfM, -halfM}), l.lonLat(pt{halfM, halfM})
	frame := terrain.Frame{West: min(a.Lon, b.Lon), North: max(a.Lat, b.Lat), CellX: gridCell, CellY: gridCell}
	frame.Cols = int(math.Ceil(math.Abs(a.Lon-b.Lon) / gridCell))
	frame.Rows = int(math.Ceil(math.Abs(a.Lat-b.Lat) / gridCell))
	whole := func(p coord.LonLat) (float64, bool) { return math.Round(l.Elevation(p)), true }
	return terrain.Sample(ctx, frame, whole, progress)
}
