package advisor

import (
	"context"
	"errors"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
	"waterstrike/geo/coord"

	"golang.org/x/sync/errgroup"
)

// How many bores a fit reads at most; more would not change it and cost time.
const (
	fitLevels = 500
	fitPoints = 60 // wells and water points
	fitLogs   = 4000
	fitYields = 4000
	heldNear  = nearLogs // neighbours of a log that is held out
	heldLook  = 320      // those looked through for them, the close ones being hidden
)

// fits are the fitted models of one snapshot; a part without enough evidence is nil.
type fits struct {
	snapshot string // that was fitted
	seq      int64  // its last change
	bores    int    // in it
	level    *level.Model
	strata   *strata.Model
	k        *hydraulics.Conductivities
	lost     lost
	report   Fits
}

func fit(ctx context.Context, s *evidence.Snapshot, rules Rules) (*fits, error) {
	f := &fits{snapshot: s.ID(), seq: s.Seq(), bores: s.Len(), lost: lostIn(s.Bores())}
	f.report = Fits{Schema: FitsSchema, Snapshot: s.ID(), Now: s.ID(), Bores: s.Len()}
	parts, ctx := errgroup.WithContext(ctx) // each writes fields of its own
	parts.Go(func() error { return f.fitLevel(ctx, s, rules.Season) })
	parts.Go(func() error { return f.fitStrata(ctx, s) })
	if err := parts.Wait(); err != nil {
		return nil, err
	}
	var err error
	if f.k, err = conductivities(s); err != nil {
		return nil, err
	}
	f.report.Ground = f.k.Report()
	return f, nil
}

func (f *fits) fitLevel(ctx context.Context, s *evidence.Snapshot, season geo.Opt[level.Season]) error {
	f.report.Kinds.Deep = s.Rate().Deep
	bores := s.SampleLevelled(fitLevels)
	if len(bores) == 0 {
		return nil
	}
	plane := coord.NewPlane(bores[0].Pos)
	kinds := &f.report.Kinds
	kinds.Stated = s.Levelled()
	var obs []level.Observation
	for _, b := range bores {
		o, ok := levelIn(s, b)
		if ok {
			obs = append(obs, placed(o, b, plane))
		}
		kinds.count(o, ok)
	}
	for _, p := range s.SamplePoints(fitPoints) {
		obs = append(obs, pointObservations(p, plane, level.LandOf(s.Setting(p.Pos)))...)
		kinds.Points++
	}
	m, report, err := level.Fit(ctx, obs, season.Or(level.DefaultSeason(bores[0].Pos.Lat)))
	if errors.Is(err, variogram.ErrTooFewData) || errors.Is(err, variogram.ErrNoVariation) {
		return nil
	}
	f.level, f.report.Level = m, geo.Some(report)
	return err
}

func (f *fits) fitStrata(ctx context.Context, s *evidence.Snapshot) error {
	var bores []*evidence.Bore
	var logs []strata.Log
	for _, b := range s.SampleDescribed(fitLogs) {
		if log := logIn(s, b); log.Described() {
			bores, logs = append(bores, b), append(logs, log)
		}
	}
	m, report, err := strata.Fit(ctx, logs, neighboursOf(s, bores))
	f.report.Kinds.Described, f.report.Kinds.Logs = s.Described(), len(logs)
	if errors.Is(err, strata.ErrTooFewLogs) {
		return nil
	}
	f.strata, f.report.Strata = m, geo.Some(report)
	return err
}

// neighboursOf looks for the neighbours of a sampled log among all bores: in a large base
// hardly any of them is in the sample.
func neighboursOf(s *evidence.Snapshot, sample []*evidence.Bore) strata.Neighbours {
	return func(i int, beyondM float64) (out []strata.Near) {
		for _, n := range s.NearestDescribed(sample[i].Pos, heldLook) {
			if n.ID != sample[i].ID && n.DistanceM >= beyondM && len(out) < heldNear {
				out = append(out, strata.Near{Log: logIn(s, n.Bore), DistanceM: n.DistanceM})
			}
		}
		return out
	}
}
