package main

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/terrain"
	"waterstrike/server"
	"waterstrike/server/tile"

	"github.com/paulmach/orb"
)

// atlas is what the map is cut from: arranged when first asked for, and again when the
// base has moved on.
type atlas struct {
	mutex    sync.Mutex // of arranging
	bores    *tile.Bores
	snapshot *evidence.Snapshot // that the bores are of
	places   *tile.Places
	of       *places      // that the places were made of
	with     *tile.Relief // and whose streams
	relief   atomic.Pointer[tile.Relief]
	charts   []server.Chart
	files    []*store.Chart
	roads    []tile.Named[orb.LineString] // drawn by others
	marks    []tile.Named[orb.Point]
}

// Arranged returns the bores of the present state.
func (l *live) Arranged(context.Context) (*tile.Bores, error) {
	l.atlas.mutex.Lock()
	defer l.atlas.mutex.Unlock()
	if now := l.evidence.Snapshot(); now != l.atlas.snapshot {
		l.atlas.bores, l.atlas.snapshot = tile.NewBores(now.Bores()), now
	}
	return l.atlas.bores, nil
}

// Places returns what else there is on the land.
func (l *live) Places(context.Context) (*tile.Places, error) {
	l.atlas.mutex.Lock()
	defer l.atlas.mutex.Unlock()
	now, relief := l.places.Load(), l.Relief()
	if now == l.atlas.of && relief == l.atlas.with {
		return l.atlas.places, nil
	}
	ground := tile.Ground{Villages: now.villages, Points: now.points, Boundaries: now.boundaries, Rivers: now.rivers, Roads: l.atlas.roads, Marks: l.atlas.marks}
	if relief != nil {
		ground.Streams = relief.Streams
	}
	l.atlas.places, l.atlas.of, l.atlas.with = tile.NewPlaces(ground), now, relief
	return l.atlas.places, nil
}

// Relief returns the shape of the land once it has been surveyed.
func (l *live) Relief() *tile.Relief { return l.atlas.relief.Load() }

// Charts returns the maps in pictures of the data folder.
func (l *live) Charts() []server.Chart { return l.atlas.charts }

// survey reads the shape of the land behind the answers, and holds its files until the
// context ends. Without it the map shows no relief.
func (l *live) survey(ctx context.Context, dir string) {
	l.learners.Go(func() {
		if err := l.readRelief(ctx, dir); err != nil && ctx.Err() == nil && geo.KindOf(err) != geo.NotFound {
			l.log.Error("the map shows no relief", "error", err)
		}
	})
}

func (l *live) readRelief(ctx context.Context, dir string) error {
	grids, err := terrain.OpenMosaic(dir)
	if err != nil {
		return err
	}
	relief, err := tile.NewRelief(ctx, grids)
	if err != nil {
		return errors.Join(err, grids.Close())
	}
	l.atlas.relief.Store(relief)
	<-ctx.Done()
	return grids.Close()
}

// openCharts opens the maps in pictures of the data folder; one that cannot be shown is
// named, and the others are.
func (a *app) openCharts(l *live) error {
	paths, err := filepath.Glob(filepath.Join(a.folder.Charts(), "*.mbtiles"))
	slices.Sort(paths)
	for _, path := range paths {
		c, err := store.OpenChart(path)
		if shown, err := a.shown(err); !shown {
			if err != nil {
				return err
			}
			continue
		}
		l.atlas.files = append(l.atlas.files, c)
		l.atlas.charts = append(l.atlas.charts, server.Chart{
			Name: c.Name, Attribution: c.Attribution, Bound: c.Bound, Least: c.Least, Most: c.Most, Pictures: c,
		})
	}
	return err
}

// shown reports that a file of others was opened. One that cannot be shown is named, and no
// error: the others are shown.
func (a *app) shown(err error) (bool, error) {
	var told *geo.Error
	if errors.As(err, &told) && told.Message.Code != "" {
		a.complain(told.Message)
		return false, nil
	}
	return err == nil, err
}

// openTraced reads the lines and points of others that lie beside the charts; a file that
// cannot be shown is named, and the others are shown.
func (a *app) openTraced(l *live) error {
	var paths []string
	for _, kind := range []string{"*.geojson", "*.json", "*.gpkg"} {
		found, err := filepath.Glob(filepath.Join(a.folder.Charts(), kind))
		if err != nil {
			return err
		}
		paths = append(paths, found...)
	}
	slices.Sort(paths)
	for _, path := range paths {
		t, err := store.OpenTraced(path)
		if shown, err := a.shown(err); !shown {
			if err != nil {
				return err
			}
			continue
		}
		for _, w := range t.Ways {
			l.atlas.roads = append(l.atlas.roads, tile.Named[orb.LineString]{Name: w.Name, Shape: w.Line})
		}
		for _, m := range t.Marks {
			l.atlas.marks = append(l.atlas.marks, tile.Named[orb.Point]{Name: m.Name, Shape: m.At})
		}
	}
	return nil
}

func (l *live) closeCharts() error {
	var all []error
	for _, c := range l.atlas.files {
		all = append(all, c.Close())
	}
	return errors.Join(all...)
}
