package main

import (
	"time"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/geo/terrain"
)

// modelErrorM is the error of the elevation grids that people have: global grids are some
// 5 to 10 m off (common practice; the same figure stands behind the level model).
const modelErrorM = 10

// across checks all records against each other, and against the elevation grids of the
// data folder where there are any. A grid that cannot be used is named, and the check goes
// on without it.
func (a *app) across(base *store.Base, yield func(geo.Issue) error) error {
	options := check.DefaultOptions()
	options.Progress = a.slowly("check.progress")
	grids, err := terrain.OpenMosaic(a.folder.Terrain())
	switch {
	case geo.KindOf(err) == geo.NotFound: // none were given
		return check.Across(a.ctx, base, options, yield)
	case err != nil:
		return err
	}
	defer grids.Close()
	for _, refused := range grids.Refused() {
		a.complain(geo.Say("check.grid-refused", geo.With("value", geo.Text(refused.Error()))))
	}
	if len(grids.Files()) > 0 {
		options.Terrain = func(p coord.LonLat) (elevationM, errorM float64, ok bool) {
			elevationM, ok = grids.Elevation(p)
			return elevationM, modelErrorM, ok
		}
	}
	if err := check.Across(a.ctx, base, options, yield); err != nil {
		return err
	}
	return grids.Err()
}

// slowly writes how far it is to the error output, once a second.
func (a *app) slowly(code geo.Code) func(done, total int) {
	last := time.Now()
	return func(done, total int) {
		if time.Since(last) < time.Second {
			return
		}
		last = time.Now()
		a.complain(geo.Say(code, geo.With("n", geo.Count(done)), geo.With("total", geo.Count(total))))
	}
}
