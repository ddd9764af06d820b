package evidence

import (
	"cmp"
	"context"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

// PointSource is a source that holds wells and water points too. They are few beside the
// bores: all of them are read again when one has changed.
type PointSource interface {
	Source
	// WaterPoints calls fn with every visible water point in order of its id.
	WaterPoints(ctx context.Context, fn func(geo.WaterPoint) error) error
	// PointsChangedSince reports that a water point was touched after a change.
	PointsChangedSince(ctx context.Context, seq int64) (bool, error)
}

// Point is what a well or water point says of the level: its depth with the months in which
// it falls dry, and what visitors measured.
type Point struct {
	ID     geo.WaterPointID
	Pos    coord.LonLat
	DepthM geo.Opt[float64]      // of a well whose dry months are known
	Bored  bool                  // a tube well: its pump hangs above its bottom
	Dry    geo.Opt[geo.MonthSet] // known and empty: never
	Levels []Level               // measured at rest, the latest first
}

// visitsKept is how many levels of one well are kept: more tell little of other places.
const visitsKept = 4

// points are the wells and water points of a snapshot that say anything of the level.
type points struct {
	byID  []Point
	index *index.Index
}

// readPoints reads what a source holds of them; none where it holds no such thing.
func readPoints(ctx context.Context, src Source) (*points, error) {
	from, ok := src.(PointSource)
	if !ok {
		return nil, nil
	}
	p := &points{}
	err := from.WaterPoints(ctx, func(w geo.WaterPoint) error {
		if point, ok := pointOf(w); ok {
			p.byID = append(p.byID, point)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortFunc(p.byID, func(a, b Point) int { return cmp.Compare(a.ID, b.ID) })
	entries := make([]index.Entry, len(p.byID))
	for i, point := range p.byID {
		entries[i] = index.Entry{ID: string(point.ID), Pos: point.Pos}
	}
	p.index, err = index.New(entries)
	return p, err
}

// pointOf keeps what a water point says; ok is false where it says nothing. Springs, open
// water and taps say nothing of the water below them, and deep wells nothing of the first.
func pointOf(w geo.WaterPoint) (p Point, ok bool) {
	depth, known := w.DepthM.Get()
	if w.Kind != geo.DugWell && w.Kind != geo.TubeWell || known && depth > ShallowM || !known && w.Kind == geo.TubeWell {
		return p, false
	}
	p = Point{ID: w.ID, Pos: w.Position.Pos, Bored: w.Kind == geo.TubeWell}
	if known && w.DryMonths.Known() {
		p.DepthM, p.Dry = w.DepthM, w.DryMonths
	}
	for _, v := range slices.Backward(w.Visits) {
		level, measured := v.LevelM.Get()
		if measured && level >= 0 && len(p.Levels) < visitsKept {
			p.Levels = append(p.Levels, Level{State: geo.LevelRest, DepthM: float32(level)}.on(geo.Some(v.On), geo.Opt[geo.Date]{}))
		}
	}
	return p, p.Dry.Known() || len(p.Levels) > 0
}

// NearPoint is a well with its distance from the point asked about, metres.
type NearPoint struct {
	Point
	DistanceM float64
}

// NearestPoints returns the n nearest wells and water points that say anything of the level.
func (s *Snapshot) NearestPoints(p coord.LonLat, n int) []NearPoint {
	if s.points == nil {
		return nil
	}
	hits := s.points.index.Nearest(p, n, nil)
	out := make([]NearPoint, len(hits))
	for i, h := range hits {
		out[i] = NearPoint{s.points.byID[s.points.at(h.ID)], h.DistanceM}
	}
	return out
}

// SamplePoints returns at most n of them, the same ones for the same records: the first in
// the order of their ids, which are random.
func (s *Snapshot) SamplePoints(n int) []Point {
	if s.points == nil {
		return nil
	}
	return s.points.byID[:min(n, len(s.points.byID))]
}

func (p *points) at(id string) int {
	i, _ := slices.BinarySearchFunc(p.byID, id, func(point Point, id string) int { return cmp.Compare(string(point.ID), id) })
	return i
}

// sameSpotM is within what a water point may be the one on a bore.
const sameSpotM = 100

// without leaves out the points on some bores: they would tell what the bores told.
func (p *points) without(bores []*Bore) (*points, error) {
	if p == nil {
		return nil, nil
	}
	var drop []string
	for _, b := range bores {
		p.index.NearestFunc(b.Pos, func(h index.Hit) bool {
			if h.DistanceM <= sameSpotM {
				drop = append(drop, h.ID)
			}
			return h.DistanceM <= sameSpotM
		})
	}
	if len(drop) == 0 {
		return p, nil
	}
	slices.Sort(drop)
	drop = slices.Compact(drop)
	out := &points{}
	for _, point := range p.byID {
		if _, gone := slices.BinarySearch(drop, string(point.ID)); !gone {
			out.byID = append(out.byID, point)
		}
	}
	var err error
	out.index, err = p.index.With(nil, drop)
	return out, err
}
