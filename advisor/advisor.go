package advisor

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Advisor answers questions from one snapshot and one set of fits. It is never changed
// and safe for concurrent use.
type Advisor struct {
	snapshot *evidence.Snapshot
	fits     *fits
	drillers []*driller
	testers  []*driller // of the same methods: who only pass a crew's test
	builders []*builder // of the drillers, in their order
	rules    Rules
	version  string
}

// New fits the models to a snapshot.
//
// Too little evidence for a model is no error: the advice then leaves that part out and
// says so. Rules without a method are a [geo.Invalid] error; otherwise the context's error
// when it ends.
func New(ctx context.Context, snapshot *evidence.Snapshot, rules Rules, version string) (*Advisor, error) {
	if len(rules.Methods) == 0 {
		return nil, geo.Fail(geo.Invalid, "advisor.New", geo.Message{}, errors.New("the rules name no drilling method: add one"))
	}
	a := &Advisor{snapshot: snapshot, rules: rules, version: version}
	for _, m := range rules.Methods {
		d, err := newDriller(m)
		if err != nil {
			return nil, err
		}
		tester, err := d.tester()
		if err != nil {
			return nil, err
		}
		a.drillers, a.testers = append(a.drillers, d), append(a.testers, tester)
	}
	var err error
	if a.fits, err = fit(ctx, snapshot, rules); err != nil {
		return nil, err
	}
	for _, d := range a.drillers {
		a.builders = append(a.builders, a.rules.builder(&d.Method, a.fits.k))
	}
	return a, nil
}

// Advance returns an advisor over a later snapshot, with the fits that there are: it takes
// no time. Where Stale then tells so, Refit makes the fits that the evidence deserves.
func (a *Advisor) Advance(snapshot *evidence.Snapshot) *Advisor {
	next := *a
	next.snapshot = snapshot
	return &next
}

// Stale reports that the fits are to be made anew: there were as many changes since as a
// tenth of the bores, or any where a model had too little evidence.
func (a *Advisor) Stale() bool {
	changes := a.snapshot.Seq() - a.fits.seq
	poor := a.fits.level == nil || a.fits.strata == nil
	return 10*changes > int64(a.fits.bores) || poor && changes > 0
}

// Refit returns an advisor over the same snapshot with fits of its own, or the context's
// error when it ends. It takes seconds; this advisor answers on meanwhile.
func (a *Advisor) Refit(ctx context.Context) (*Advisor, error) {
	return New(ctx, a.snapshot, a.rules, a.version)
}

// ID names the evidence and the fits that answers come from: the change number of the
// records, and that of the fits where they are older.
func (a *Advisor) ID() string {
	if a.fits.snapshot == a.snapshot.ID() {
		return a.snapshot.ID()
	}
	return a.snapshot.ID() + "/" + a.fits.snapshot
}

// Advise answers a question.
//
//   - Domain: any valid position. Far from all bores the answer is the region's and the
//     verdict says that the evidence is not enough.
//   - Errors: a [geo.Invalid] error for a position off the globe or a method that is not in
//     the rules; a [geo.NotFound] error
//     when the base holds no bore with a position; the context's error when it ends.
func (a *Advisor) Advise(ctx context.Context, q Question) (Advice, error) {
	return a.At(q.At).Advise(ctx, q)
}

// advise puts the answer together from what lies around and what is stated of it.
func (a *Advisor) advise(q Question, near gathered, water *level.Statement, mixture *strata.Statement) (Advice, error) {
	out := Advice{
		Schema: Schema, Question: q,
		Quality: a.quality(q.At), Cautions: cautions(),
		Provenance: Provenance{Snapshot: a.ID(), Bores: a.snapshot.Len(), Version: a.version},
	}
	out.Evidence = a.account(near, water, mixture)
	if water != nil {
		out.Water = waterOf(water, near)
	}
	if mixture != nil {
		out.layersOf(mixture)
	}
	if err := a.decide(&out, near, water, mixture); err != nil {
		return Advice{}, err
	}
	out.Verdict.Because = append(a.farOff(out.Evidence), out.Verdict.Because...)
	out.Verdict.Because = append(out.Verdict.Because, a.beside(near)...)
	return out, nil
}

// askable refuses what no answer can be given to.
func (a *Advisor) askable(ctx context.Context, at coord.LonLat) error {
	if !at.Valid() {
		return offTheGlobe("advisor.Advise", at)
	}
	if a.snapshot.Len() == 0 {
		return geo.Fail(geo.NotFound, "advisor.Advise", geo.Say("problem.no-data"), nil)
	}
	return ctx.Err()
}

func offTheGlobe(op string, at coord.LonLat) error {
	return geo.Fail(geo.Invalid, op, geo.Say("problem.position-off-globe", geo.With("value", geo.Text(fmt.Sprint(at.Lat, at.Lon)))), nil)
}

// water states the level; nil when there is too little evidence for one.
func (a *Advisor) water(near gathered) (*level.Statement, error) {
	if a.fits.level == nil {
		return nil, nil
	}
	s, err := a.fits.level.Predict(near.observations, variogram.XY{}, level.LandOf(near.land))
	switch {
	case errors.Is(err, variogram.ErrTooFewData):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return &s, nil
}

// layers states the layers; nil when there is too little evidence for them.
func (a *Advisor) layers(near gathered) *strata.Statement {
	if a.fits.strata == nil {
		return nil
	}
	return a.fits.strata.At(near.logs, settingOf(near.land))
}

// decide works out the chances, the verdict and the plan, where both statements stand.
func (a *Advisor) decide(out *Advice, near gathered, water *level.Statement, mixture *strata.Statement) error {
	if water == nil || mixture == nil {
		out.Verdict = without(water != nil, mixture != nil)
		return nil
	}
	c := a.choose(out, near, water, mixture)
	out.Execution = a.fits.lost.execution(c.best.Method)
	if r := out.Evidence.Regional; r.Believable() && float64(r.Producing)/float64(r.Known)-c.best.Chance > surprise {
		out.Evidence.Doubts = append(out.Evidence.Doubts, geo.Say("evidence.asks-more"))
	}
	if out.Verdict.Code != Go && out.Verdict.Code != WithCare {
		return nil
	}
	out.Months = a.drillers[c.at].byMonth(c.grounds, water.Distribution, c.draws, c.best.Chance)
	columns := a.columns(c.grounds, worksIn(c.found, c.draws), near, water.Distribution)
	return out.plan(columns, a.builders[c.at].on(near.k), mixture.Odds)
}

// chosen is the method with the best chance, and where in the ensemble it succeeds.
type chosen struct {
	best    MethodChance
	at      int // of its driller
	grounds []weighed
	draws   *draws
	found   []*outcomes
}

// choose works out the chances and the verdict.
func (a *Advisor) choose(out *Advice, near gathered, water *level.Statement, mixture *strata.Statement) chosen {
	rng := seeded(out.Question)
	c := chosen{grounds: a.grounds(near, mixture, rng)}
	c.draws = draw(c.grounds, water.Distribution, rng)
	for i, d := range a.drillers {
		if m := out.Question.Method; m != "" && m != d.Code {
			continue
		}
		tables := make([]*outcomes, len(c.grounds))
		for g := range c.grounds {
			tables[g] = d.tabulate(&c.grounds[g].ground, c.draws)
		}
		by := chanceOf(d, tables, c.draws)
		out.Methods = append(out.Methods, by)
		if c.best.Method == "" || by.Chance > c.best.Chance {
			c.best, c.at, c.found = by, i, tables
		}
	}
	slices.SortStableFunc(out.Methods, func(x, y MethodChance) int { return cmp.Compare(y.Chance, x.Chance) })
	out.Verdict = a.rules.Thresholds.judge(c.best, out.Evidence.Effective)
	return c
}

// surprise is how far below the region's share of successes a chance has to be explained.
const surprise = 0.25

// seeded returns the random numbers of a question: they depend on its seed and place.
func seeded(q Question) *rand.Rand {
	h := fnv.New64a()
	for _, v := range []float64{q.At.Lon, q.At.Lat} {
		bits := math.Float64bits(v)
		for shift := 0; shift < 64; shift += 8 {
			h.Write([]byte{byte(bits >> shift)})
		}
	}
	return rand.New(rand.NewPCG(q.Seed, h.Sum64()))
}
