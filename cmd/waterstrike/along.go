package main

import (
	"context"
	"math"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"

	"github.com/paulmach/orb"
)

// along asks at places along a line and gathers the bores beside it.
type along struct {
	base     *store.Base
	adviser  *advisor.Advisor
	snapshot *evidence.Snapshot
}

// lineStations is how many places of a line are asked about.
const lineStations = 16

// line draws on the bores within asideM of a line, and looks deepM below the ground.
func (w along) line(ctx context.Context, from, to coord.LonLat, asideM, deepM float64) (sheet.Line, error) {
	line := sheet.Line{From: from, To: to, AsideM: asideM, DeepM: deepM}
	var err error
	if line.Stations, err = w.stations(ctx, from, to); err != nil {
		return line, err
	}
	box := orb.MultiPoint{{from.Lon, from.Lat}, {to.Lon, to.Lat}}.Bound().Pad(asideM / 1e5)
	near, _ := w.snapshot.Within(box, math.MaxInt32)
	ids := make([]geo.BoreID, len(near))
	for i, b := range near {
		ids[i] = b.ID
	}
	err = w.base.BoresByID(ctx, ids, func(b geo.Bore) error {
		line.Bores = append(line.Bores, b)
		return nil
	})
	return line, err
}

// stations asks at places evenly along the line. Without elevations the ground is drawn
// level.
func (w along) stations(ctx context.Context, from, to coord.LonLat) ([]sheet.Station, error) {
	length := coord.DistanceM(from, to)
	out := make([]sheet.Station, lineStations)
	for i := range out {
		share := float64(i) / (lineStations - 1)
		at := coord.LonLat{Lon: from.Lon + share*(to.Lon-from.Lon), Lat: from.Lat + share*(to.Lat-from.Lat)}
		advice, err := w.adviser.Advise(ctx, advisor.Question{At: at, Seed: 1})
		if err != nil {
			return nil, err
		}
		out[i] = sheet.Station{AlongM: share * length, GroundM: w.snapshot.Setting(at).GroundM.Or(0), Odds: advice.Odds, Water: advice.Water}
	}
	return out, nil
}

// Along asks along a line of the present state.
func (l *live) Along(ctx context.Context, from, to coord.LonLat, asideM, deepM float64) (sheet.Line, error) {
	return along{l.base, l.adviser.Load(), l.evidence.Snapshot()}.line(ctx, from, to, asideM, deepM)
}
