package evidence_test

import (
	"context"
	"testing"
	"time"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// wells is a base with water points.
type wells struct {
	*base
	points []geo.WaterPoint
	moved  int64 // change at which a point was last touched
	read   int
}

func (w *wells) WaterPoints(_ context.Context, fn func(geo.WaterPoint) error) error {
	w.read++
	for _, p := range w.points {
		if err := fn(p); err != nil {
			return err
		}
	}
	return nil
}

func (w *wells) PointsChangedSince(_ context.Context, seq int64) (bool, error) {
	return w.moved > seq, nil
}

func well(id string, lon float64) geo.WaterPoint {
	return geo.WaterPoint{ID: geo.WaterPointID(id), Kind: geo.DugWell, Position: at(lon, 0), DepthM: geo.Some(6.0), DryMonths: geo.Some(geo.Months(time.May))}
}

// What a well says of the level is kept, and nothing of springs, taps, deep wells and wells
// that nobody asked about.
func TestPointsKept(t *testing.T) {
	measured, spring, deep, silent, visited := well("b", 0.2), well("c", 0), well("d", 0), well("e", 0), well("f", 0.3)
	measured.Visits = []geo.Visit{
		{On: geo.Date{Year: 2016, Month: 3, Day: 4}, LevelM: geo.Some(5.0)},
		{On: geo.Date{Year: 2017, Month: 9}, LevelM: geo.Some(3.0)},
		{Works: geo.Some(true)},
	}
	spring.Kind = geo.Spring
	deep.DepthM = geo.Some(90.0)
	silent.DryMonths = geo.Opt[geo.MonthSet]{}
	visited.DepthM = geo.Opt[float64]{}
	visited.Visits = measured.Visits[:1]
	src := &wells{base: newBase(), points: []geo.WaterPoint{well("a", 0.1), measured, spring, deep, silent, visited}}
	src.save(geo.Bore{ID: idOf(1), Position: geo.Some(at(0, 0))})
	s := load(t, src)
	near := s.NearestPoints(coord.LonLat{}, 9)
	if len(near) != 3 || near[0].ID != "a" || near[1].ID != "b" || near[2].ID != "f" {
		t.Fatalf("%+v", near)
	}
	if p := near[0]; p.DepthM.Or(0) != 6 || p.Dry.Or(0) != geo.Months(time.May) || len(p.Levels) != 0 || p.Bored {
		t.Errorf("%+v", p)
	}
	if l := near[1].Levels; len(l) != 2 || l[0].DepthM != 3 || l[0].On() != (geo.Date{Year: 2017, Month: 9}) || l[1].On().Day != 4 {
		t.Errorf("the latest level comes first: %+v", l)
	}
	if p := near[2]; p.Dry.Known() || p.DepthM.Known() || len(p.Levels) != 1 {
		t.Errorf("%+v", p)
	}
	if n := len(s.SamplePoints(2)); n != 2 {
		t.Errorf("%d of a sample of 2", n)
	}
}

// Water points are read again when one has changed, and only then; hiding a bore hides the
// water point that stands on it.
func TestPointsAdvance(t *testing.T) {
	src := &wells{base: newBase(), points: []geo.WaterPoint{well("a", 0.1), well("b", 0.2)}}
	src.save(geo.Bore{ID: idOf(1), Position: geo.Some(at(0.1, 0))})
	first := load(t, src)
	src.save(geo.Bore{ID: idOf(2), Position: geo.Some(at(0.5, 0))})
	next := advance(t, first, src)
	if src.read != 1 || len(next.NearestPoints(coord.LonLat{}, 9)) != 2 {
		t.Errorf("read %d times, %d points", src.read, len(next.NearestPoints(coord.LonLat{}, 9)))
	}
	src.points = append(src.points, well("c", 0.3))
	src.save(geo.Bore{ID: idOf(3), Position: geo.Some(at(0.6, 0))})
	src.moved = 3
	next = advance(t, next, src)
	if src.read != 2 || len(next.NearestPoints(coord.LonLat{}, 9)) != 3 || len(first.NearestPoints(coord.LonLat{}, 9)) != 2 {
		t.Errorf("read %d times, %d points, %d before", src.read, len(next.NearestPoints(coord.LonLat{}, 9)), len(first.NearestPoints(coord.LonLat{}, 9)))
	}
	hidden, err := next.Without([]geo.BoreID{idOf(1)})
	if err != nil {
		t.Fatal(err)
	}
	if p := hidden.NearestPoints(coord.LonLat{}, 9); len(p) != 2 || p[0].ID != "b" {
		t.Errorf("without the bore: %+v", p)
	}
	if p := load(t, newBase()).NearestPoints(coord.LonLat{}, 9); p != nil {
		t.Errorf("a source without water points has %+v", p)
	}
}

var _ evidence.PointSource = (*wells)(nil)
