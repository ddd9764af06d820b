package trust

import (
	"errors"
	"math"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// How many levels the tellers without a model read.
const (
	inverseOf  = 8
	krigingOf  = 32
	regionOf   = 400
	plainShift = 1.0 // metres added before the logarithm of plain kriging
)

// levelTellers are the tellers other than the advisor, over one snapshot.
type levelTellers struct {
	snapshot *evidence.Snapshot
	region   Forecast
	plain    variogram.Model // nil where nothing could be fitted
}

func newLevelTellers(s *evidence.Snapshot) (*levelTellers, error) {
	t := &levelTellers{snapshot: s}
	var at []variogram.XY
	var logs []float64
	plane := coord.Plane{}
	for i, b := range s.SampleLevelled(regionOf) {
		if i == 0 {
			plane = coord.NewPlane(b.Pos)
		}
		if depth, ok := restOf(b); ok {
			xy := plane.XY(b.Pos)
			t.region = append(t.region, depth)
			at, logs = append(at, variogram.XY{X: xy.X, Y: xy.Y}), append(logs, plainLog(depth))
		}
	}
	slices.Sort(t.region)
	var err error
	t.plain, err = plainKriging(at, logs)
	return t, err
}

// plainKriging fits what a person with a kriging program would: logarithms, an exponential
// variogram, no season, no errors, no dry holes.
func plainKriging(at []variogram.XY, logs []float64) (variogram.Model, error) {
	model, _, err := variogram.Fit(at, logs, nil, variogram.DefaultOptions())
	if errors.Is(err, variogram.ErrTooFewData) || errors.Is(err, variogram.ErrNoVariation) {
		return nil, nil
	}
	return model, err
}

func plainLog(depthM float64) float64 { return math.Log(max(depthM, 0) + plainShift) }

// restOf returns the depth to water of a bore whose water rests below ground.
func restOf(b *evidence.Bore) (float64, bool) {
	if len(b.Levels) == 0 || b.Levels[0].State != geo.LevelRest {
		return 0, false
	}
	return float64(b.Levels[0].DepthM), true
}

// say returns everybody's statement but the advisor's, in the order of [LevelTellers]; ok
// is false where a teller has nothing to tell from.
func (t *levelTellers) say(at coord.LonLat) (out []Forecast, ok bool, err error) {
	near := t.near(at, krigingOf)
	if len(near) == 0 || t.plain == nil {
		return nil, false, nil
	}
	kriged, err := t.kriged(near, at)
	if err != nil {
		return nil, false, err
	}
	return []Forecast{{near[0].depthM}, {inverse(near[:min(inverseOf, len(near))])}, t.region, kriged}, true, nil
}

// rest is a level at rest near a point.
type rest struct {
	evidence.Near
	depthM float64
}

// near returns at most n levels at rest, nearest first.
func (t *levelTellers) near(at coord.LonLat, n int) (out []rest) {
	for _, b := range t.snapshot.NearestLevelled(at, 2*n) {
		if depth, ok := restOf(b.Bore); ok && len(out) < n {
			out = append(out, rest{b, depth})
		}
	}
	return out
}

// inverse is the mean weighted by the inverse square of the distance.
//
//   - Units: metres.
//   - Domain: distances below 1 m count as 1 m.
//   - Source: Shepard (1968).
func inverse(near []rest) float64 {
	sum, weight := 0.0, 0.0
	for _, n := range near {
		w := 1 / square(max(n.DistanceM, 1))
		sum += w * n.depthM
		weight += w
	}
	return sum / weight
}

func (t *levelTellers) kriged(near []rest, at coord.LonLat) (Forecast, error) {
	plane := coord.NewPlane(at)
	var data []krige.Datum
	for _, n := range near {
		xy := plane.XY(n.Pos)
		data = append(data, krige.Datum{XY: krige.XY{X: xy.X, Y: xy.Y}, Value: plainLog(n.depthM), ErrVar: alike})
	}
	solver, err := krige.NewSolver(t.plain, krige.Ordinary{})
	if err != nil {
		return nil, err
	}
	e, err := solver.Solve(data, krige.XY{})
	if err != nil {
		return nil, err
	}
	sd := math.Sqrt(max(e.Variance, 0))
	return forecastOf(func(p float64) float64 { return math.Exp(e.Mean+sd*normalQuantile(p)) - plainShift }), nil
}

// alike is a reading error that lets two bores stand at one place, on the log scale.
const alike = 1e-6

func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
