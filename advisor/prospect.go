package advisor

import (
	"cmp"
	"context"
	"errors"
	"hash/fnv"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/variogram"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"

	"gonum.org/v1/gonum/stat/distuv"
)

// Scenarios is how many pictures of the whole region [Advisor.Prospects] draws.
const Scenarios = members

// Prospect is what may come of one of several spots that are asked about together.
type Prospect struct {
	At       coord.LonLat
	Land     terrain.Setting
	Evidence Evidence
	Verdict  geo.Code // of the advice on the best way
	Water    *Water   // nil without a statement of the level
	Ways     []Way    // by chance, best first; none without statements of level and layers
}

// Way is one method at a spot.
type Way struct {
	Method   geo.Method
	Chance   float64   // mean of Chances
	Chances  []float64 // one in each of [Scenarios] pictures that all spots share
	Reasons  []Reason
	DrilledM float64             // mean depth of the hole, whatever comes of it
	Refused  geo.Opt[geo.Code]   // the verdict where the rules of the well allow none
	Well     geo.Opt[Range]      // depth of the wells that work; missing below the chance asked for
	Work     welldesign.Forecast // of those; zero where Well is missing
}

// ProspectOptions is how prospects are asked for.
type ProspectOptions struct {
	Seed  uint64
	Least float64 // chance from which wells are designed
}

// Progress is told how many spots of how many are done.
type Progress func(done, total int)

// Prospects answers at many spots together. In each of [Scenarios] pictures of the region
// the water surface is one draw for all spots, logs and the ground between them weigh the
// same wherever they are near, and the region's conductivities are high or low
// everywhere, so that spots succeed and fail together as far as the models say.
//
//   - Shapes: one prospect for each spot, in their order.
//   - Domain: as [Advisor.Advise]; the chances are those of the advice but for the luck
//     of the draws.
//   - Errors: as [Advisor.Advise].
//   - Cost: that of an advice for each spot; on every processor.
//   - Source: [level.Model.Together]; common random numbers for the layers.
//   - Checked by: TestProspectsAreTheAdvice, TestProspectsGoTogether.
//
// progress may be nil.
func (a *Advisor) Prospects(ctx context.Context, spots []coord.LonLat, o ProspectOptions, progress Progress) ([]Prospect, error) {
	for _, at := range spots {
		if !at.Valid() {
			return nil, offTheGlobe("advisor.Prospects", at)
		}
	}
	if a.snapshot.Len() == 0 {
		return nil, geo.Fail(geo.NotFound, "advisor.Prospects", geo.Say("problem.no-data"), nil)
	}
	if len(spots) == 0 {
		return nil, nil
	}
	p := &prospecting{Advisor: a, options: o, near: make([]gathered, len(spots)), out: make([]Prospect, len(spots)), spots: spots}
	plane := coord.NewPlane(spots[0])
	for i, at := range spots {
		p.near[i] = a.gatherIn(at, plane, a)
		p.near[i].nearest = a.snapshot.Nearest(at, 1)
		p.out[i] = Prospect{At: at, Land: p.near[i].land}
	}
	if err := p.levels(plane); err != nil {
		return nil, err
	}
	return p.out, p.all(ctx, progress)
}

// prospecting is the work on many spots.
type prospecting struct {
	*Advisor
	options ProspectOptions
	spots   []coord.LonLat
	near    []gathered
	water   []level.Statement // empty where no level can be stated
	fields  [][]float64       // of each spot, by picture
	out     []Prospect
}

// levels states the level at all spots with pictures that they share.
func (p *prospecting) levels(plane coord.Plane) error {
	if p.fits.level == nil {
		return nil
	}
	places := make([]level.Place, len(p.spots))
	for i, at := range p.spots {
		xy := plane.XY(at)
		places[i] = level.Place{Near: p.near[i].observations, Land: level.LandOf(p.near[i].land)}
		places[i].At.X, places[i].At.Y = xy.X, xy.Y
	}
	var err error
	p.water, p.fields, err = p.fits.level.Together(places, members, rand.New(rand.NewPCG(p.options.Seed, 0)))
	if errors.Is(err, variogram.ErrTooFewData) {
		p.water, err = nil, nil
	}
	return err
}

// all works the spots out on every processor.
func (p *prospecting) all(ctx context.Context, progress Progress) error {
	var next, done atomic.Int64
	var telling sync.Mutex
	failures := make([]error, len(p.spots))
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(p.spots) {
					return
				}
				failures[i] = p.spot(i)
				n := int(done.Add(1))
				if progress != nil {
					telling.Lock()
					progress(n, len(p.spots))
					telling.Unlock()
				}
			}
		})
	}
	workers.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, err := range failures {
		if err != nil {
			return err
		}
	}
	return nil
}

// spot works one spot out.
func (p *prospecting) spot(i int) error {
	out, near := &p.out[i], p.near[i]
	var water *level.Statement
	if p.water != nil {
		water = &p.water[i]
		out.Water = waterOf(water, near)
	}
	mixture := p.layers(near)
	out.Evidence = p.account(near, water, mixture)
	if water == nil || mixture == nil {
		out.Verdict = NotEnough
		return nil
	}
	rng := seeded(Question{At: out.At, Seed: p.options.Seed})
	grounds, sources := p.sharedGrounds(near, mixture, rng)
	e := p.sharedDraws(i, grounds, sources, rng)
	for k, d := range p.drillers {
		tables := make([]*outcomes, len(grounds))
		for g := range grounds {
			tables[g] = d.tabulate(&grounds[g].ground, e)
		}
		w := wayOf(d, tables, e)
		if err := p.design(&w, p.builders[k].on(near.k), near, grounds, worksIn(tables, e), water.Distribution); err != nil {
			return err
		}
		out.Ways = append(out.Ways, w)
	}
	slices.SortStableFunc(out.Ways, func(x, y Way) int { return cmp.Compare(y.Chance, x.Chance) })
	out.Verdict = p.rules.Thresholds.judge(out.Ways[0].judged(), out.Evidence.Effective).Code
	return nil
}

// judged is a way as the advice judges it.
func (w *Way) judged() MethodChance {
	out := MethodChance{Method: w.Method, Chance: w.Chance, Reasons: w.Reasons}
	out.Lo, out.Hi = inner(slices.Clone(w.Chances), w.Chance)
	return out
}

// wayOf is what one method comes to in every picture.
func wayOf(d *driller, tables []*outcomes, e *draws) Way {
	per := e.perMember(tables)
	w := Way{Method: d.Code, Chances: per[:]}
	var fails [failures]float64
	for m := range members {
		w.Chance += per[m] / members
		for g, table := range tables {
			p := e.shares[m][g] / (boresEach * members)
			for _, cell := range e.levels[m] {
				r := &table[cell]
				w.DrilledM += p * r.bottomM
				if works := r.works[m%bands]; works < 1 {
					fails[r.fails] += p * (1 - works)
				}
			}
		}
	}
	w.Chance = min(w.Chance, 1)
	w.Reasons = ranked(fails)
	return w
}

// design foresees the wells of a way that is likely enough, as the advice does.
func (p *prospecting) design(w *Way, b *builder, near gathered, grounds []weighed, found working, water level.Distribution) error {
	if w.Chance < p.options.Least || found.total == 0 {
		return nil
	}
	forecast, wells, err := welldesign.Foresee(p.columns(grounds, found, near, water), b.Kit)
	if err != nil {
		return err
	}
	if !forecast.Well.Known() || forecast.Unsafe > forecast.Fits {
		w.Refused = geo.Some(refusedBy(forecast, wells, b.Method.Code).Code)
		return nil
	}
	w.Well, w.Work = geo.Some(bottoms(wells)), forecast
	return nil
}

// sharedGrounds are the possible grounds of a spot, each with what its random numbers come
// from: the log that it continues, or the log nearest to the spot for the ground between
// logs. Spots with the same one draw alike.
func (p *prospecting) sharedGrounds(near gathered, x *strata.Statement, rng *rand.Rand) (out []weighed, sources []uint64) {
	source := func(log, k int) uint64 {
		kind := byte(1)
		if log < 0 {
			kind, log = 0, 0
		}
		h := fnv.New64a()
		if log < len(near.described) {
			h.Write([]byte(near.described[log].ID))
		}
		h.Write([]byte{kind, byte(k)})
		return h.Sum64()
	}
	drawn := x.DrawBy(perLog, noLog, func(log, k int) *rand.Rand {
		sources = append(sources, source(log, k))
		return rand.New(rand.NewPCG(p.options.Seed, sources[len(sources)-1]))
	})
	return p.weigh(nil, drawn, near, x, rng, strata.Cells), sources
}

// sharedDraws draws the ensemble of one spot out of what all spots share.
func (p *prospecting) sharedDraws(i int, grounds []weighed, sources []uint64, rng *rand.Rand) *draws {
	d := newDraws(grounds, p.water[i].Distribution)
	for m := range members {
		for b := range boresEach {
			d.meet(m, b, p.water[i].LowOf(p.fields[i][m], stratum(b, rng)))
		}
		d.shares[m] = p.sharedShares(m, grounds, sources)
	}
	normalise(d.odds[:])
	return d
}

// sharedShares is the Dirichlet of [dirichlet] with random numbers of each ground's own.
func (p *prospecting) sharedShares(m int, grounds []weighed, sources []uint64) []float64 {
	shares, total := make([]float64, len(grounds)), 0.0
	for again := uint64(0); total == 0; again++ {
		for i, g := range grounds {
			src := rand.NewPCG(p.options.Seed+uint64(m+1)<<32+again<<48, sources[i])
			shares[i] = distuv.Gamma{Alpha: max(g.weight, leastWeight), Beta: 1, Src: src}.Rand()
			total += shares[i]
		}
	}
	normalise(shares)
	return shares
}
