package main

import (
	"time"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/terrain"
)

// land prepares the elevation grids of the data folder; nil where there are none. The
// first time it takes a while and says how far it is. A grid that cannot be used is named,
// and answers go on without it.
func (a *app) land() (land evidence.Land, done func(), err error) {
	done = func() {}
	grids, err := terrain.OpenMosaic(a.folder.Terrain())
	if geo.KindOf(err) == geo.NotFound {
		return nil, done, nil
	}
	if err != nil {
		return nil, done, err
	}
	for _, refused := range grids.Refused() {
		a.complain(geo.Say("check.grid-refused", geo.With("value", geo.Text(refused.Error()))))
	}
	files := len(grids.Files())
	if err := grids.Close(); err != nil || files == 0 {
		return nil, done, err
	}
	t, err := terrain.PrepareAll(a.ctx, a.folder.Terrain(), terrain.Defaults(), a.preparing())
	if err != nil {
		return nil, done, err
	}
	return t, func() { t.Close() }, nil
}

// preparing writes how far the land is prepared to the error output, once a second.
func (a *app) preparing() terrain.Progress {
	last := time.Now()
	return func(stage terrain.Stage, rows, total int) {
		if time.Since(last) < time.Second {
			return
		}
		last = time.Now()
		a.complain(geo.Say("terrain.progress", geo.With("stage", geo.Ref("terrain.stage."+string(stage))),
			geo.With("n", geo.Count(rows)), geo.With("total", geo.Count(total))))
	}
}

// evidence reads the records of a base and the land that they stand on; done is to be
// called when no more is asked.
func (a *app) evidence(base *store.Base) (snapshot *evidence.Snapshot, done func(), err error) {
	land, done, err := a.land()
	if err != nil {
		return nil, nil, err
	}
	a.paces = paces{}
	snapshot, err = evidence.Load(a.ctx, timing{source{base}, a.paces})
	if err != nil {
		done()
		return nil, nil, err
	}
	return snapshot.On(land), done, nil
}
