package main

import (
	"cmp"
	"context"
	"log/slog"
	"slices"
	"sync"
	"sync/atomic"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/livehole"
	"waterstrike/advisor/trust"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"

	"github.com/paulmach/orb"
)

// live is the base as the server sees it: the present advisor, and the places that maps
// and lists show, read again when the base has moved on.
type live struct {
	base     *store.Base
	rules    advisor.Rules
	evidence *evidence.Live
	adviser  atomic.Pointer[advisor.Advisor]
	log      *slog.Logger
	refresh  sync.Mutex // of learning and the order of advisers
	learning bool       // fits are being made anew
	learners sync.WaitGroup
	surveys  sync.WaitGroup // surfaces under way
	places   atomic.Pointer[places]
	atlas    atlas
	packing  sync.Mutex // of maker
	maker    *livehole.Maker
	makerOf  string // state that it was made for
}

// places are what changes seldom and is shown often.
type places struct {
	villages   []geo.Village
	points     []geo.WaterPoint
	boundaries []geo.Boundary
	rivers     []geo.River
	sitings    []geo.Siting

	villagesByID []geo.Village
	pointsByID   []geo.WaterPoint
}

// newLive reads the base. The paces that hours of work are told by are those of its
// records at that time.
func newLive(ctx context.Context, base *store.Base, land evidence.Land, rules advisor.Rules, log *slog.Logger) (*live, error) {
	rules.Timed = paces{}
	first, err := evidence.NewLive(ctx, timing{source{base}, rules.Timed}, land)
	if err != nil {
		return nil, err
	}
	adviser, err := advisor.New(ctx, first.Snapshot(), rules, programVersion())
	if err != nil {
		return nil, err
	}
	l := &live{base: base, rules: rules, evidence: first, log: log}
	l.adviser.Store(adviser)
	return l, l.readPlaces(ctx)
}

// follow brings everything up to the base's present state. Fits that the changes made stale
// are made anew behind the answers, until the context ends.
func (l *live) follow(ctx context.Context) error {
	l.refresh.Lock()
	defer l.refresh.Unlock()
	snapshot, err := l.evidence.Refresh(ctx)
	if err != nil {
		return err
	}
	l.adviser.Store(l.adviser.Load().Advance(snapshot))
	if l.adviser.Load().Stale() && !l.learning {
		l.learning = true
		l.learners.Go(func() { l.learn(ctx) })
	}
	return l.readPlaces(ctx)
}

// learn makes the fits anew, again where the records have moved on too far meanwhile. A
// failure is told, and tried again at the next change.
func (l *live) learn(ctx context.Context) {
	for again := true; again; {
		learnt, err := l.adviser.Load().Refit(ctx)
		if err != nil && ctx.Err() == nil {
			l.log.Error("the models could not be fitted anew: answers go on from the former ones", "error", err)
		}
		again = l.adopt(learnt, err)
	}
}

// adopt answers from new fits over the present records; true where these are stale too.
func (l *live) adopt(learnt *advisor.Advisor, failed error) bool {
	l.refresh.Lock()
	defer l.refresh.Unlock()
	if failed == nil {
		l.adviser.Store(learnt.Advance(l.evidence.Snapshot()))
	}
	l.learning = failed == nil && l.adviser.Load().Stale()
	return l.learning
}

// wait returns once no fit and no surface is under way; their contexts have ended before.
func (l *live) wait() {
	l.learners.Wait()
	l.surveys.Wait()
}

// Surface works places out in the present state.
func (l *live) Surface(ctx context.Context, q advisor.SurfaceQuestion) ([]advisor.Spot, string, error) {
	l.surveys.Add(1)
	defer l.surveys.Done()
	adviser := l.adviser.Load()
	spots, err := adviser.Surface(ctx, q, nil)
	return spots, adviser.ID(), err
}

// SurfaceMethods lists the drilling methods that surfaces are worked out for.
func (l *live) SurfaceMethods() (out []geo.Method) {
	for _, m := range l.rules.Methods {
		out = append(out, m.Code)
	}
	return out
}

// Fits says what the present answers were learnt from.
func (l *live) Fits(context.Context) (advisor.Fits, error) { return l.adviser.Load().Fits(), nil }

func (l *live) readPlaces(ctx context.Context) error {
	p := new(places)
	err := l.base.Villages(ctx, func(v geo.Village) error {
		p.villages = append(p.villages, v)
		return nil
	})
	if err != nil {
		return err
	}
	slices.SortStableFunc(p.villages, func(a, b geo.Village) int {
		return cmp.Or(cmp.Compare(b.People.Or(0), a.People.Or(0)), cmp.Compare(a.Name, b.Name))
	})
	err = l.base.WaterPoints(ctx, func(w geo.WaterPoint) error {
		w.Visits = lastVisit(w.Visits) // no page tells the others
		p.points = append(p.points, w)
		return nil
	})
	if err != nil {
		return err
	}
	err = l.base.Boundaries(ctx, func(b geo.Boundary) error {
		p.boundaries = append(p.boundaries, b)
		return nil
	})
	if err != nil {
		return err
	}
	err = l.base.Rivers(ctx, func(r geo.River) error {
		p.rivers = append(p.rivers, r)
		return nil
	})
	if err != nil {
		return err
	}
	err = l.base.Sitings(ctx, func(v geo.Siting) error {
		p.sitings = append(p.sitings, v)
		return nil
	})
	if err != nil {
		return err
	}
	p.villagesByID = slices.SortedFunc(slices.Values(p.villages), func(a, b geo.Village) int { return cmp.Compare(a.ID, b.ID) })
	p.pointsByID = slices.SortedFunc(slices.Values(p.points), func(a, b geo.WaterPoint) int { return cmp.Compare(a.ID, b.ID) })
	l.places.Store(p)
	return nil
}

// Advise answers from the present state.
func (l *live) Advise(ctx context.Context, q advisor.Question) (advisor.Advice, error) {
	return l.adviser.Load().Advise(ctx, q)
}

// Pack makes what is taken along to an open hole. What a success costs elsewhere is worked
// out once for each set of fits.
func (l *live) Pack(ctx context.Context, q advisor.Question) (livehole.Pack, error) {
	l.packing.Lock()
	defer l.packing.Unlock()
	adviser := l.adviser.Load()
	if l.maker == nil || l.makerOf != adviser.ID() {
		maker, err := livehole.NewMaker(ctx, adviser)
		if err != nil {
			return livehole.Pack{}, err
		}
		l.maker, l.makerOf = maker, adviser.ID()
	}
	return l.maker.Make(ctx, q)
}

// State names the present state.
func (l *live) State(context.Context) (string, error) { return l.adviser.Load().ID(), nil }

// Villages returns the villages, those with most people first.
func (l *live) Villages(context.Context) ([]geo.Village, error) { return l.places.Load().villages, nil }

// Boundaries returns the outlines.
func (l *live) Boundaries(context.Context) ([]geo.Boundary, error) {
	return l.places.Load().boundaries, nil
}

// Rivers returns the rivers.
func (l *live) Rivers(context.Context) ([]geo.River, error) { return l.places.Load().rivers, nil }

// Bores returns bores of a box for a map.
func (l *live) Bores(_ context.Context, box orb.Bound, limit int) ([]sheet.MapBore, int, error) {
	bores, total := l.evidence.Snapshot().Within(box, limit)
	shown := make([]sheet.MapBore, len(bores))
	for i, b := range bores {
		shown[i] = sheet.MapBore{At: b.Pos, Outcome: b.Outcome}
	}
	return shown, total, nil
}

// Outcomes counts the bores by outcome.
func (l *live) Outcomes(context.Context) (map[geo.Outcome]int, error) {
	counts := map[geo.Outcome]int{}
	for _, b := range l.evidence.Snapshot().Bores() {
		counts[b.Outcome]++
	}
	return counts, nil
}

// Review holds a finished bore to the programme's rules.
func (l *live) Review(b geo.Bore) []geo.Issue {
	return welldesign.Review(b, geo.Opt[welldesign.Water]{}, &l.rules.Well).Issues
}

// Apart lists how far wells stay from what may foul them, before anything is known of the
// ground.
func (l *live) Apart() []welldesign.Distance {
	return welldesign.Distances(welldesign.Protection{}, &l.rules.Well)
}

// visitedM is how far off a siting visit still tells of a point: a spot is moved by less.
const visitedM = 100.0

// Visits returns the siting visits to a point and its surroundings.
func (l *live) Visits(_ context.Context, at coord.LonLat) ([]sheet.Visit, error) {
	var out []sheet.Visit
	for _, v := range l.places.Load().sitings {
		if away := coord.DistanceM(at, v.Position.Pos); away <= visitedM {
			out = append(out, sheet.Visit{Siting: v, AwayM: away, Apart: l.Apart()})
		}
	}
	slices.SortStableFunc(out, func(a, b sheet.Visit) int { return cmp.Compare(a.AwayM, b.AwayM) })
	return out, nil
}

// Methods lists the programme's drilling methods, machines and the unknown one last.
func (l *live) Methods() []geo.Method {
	var out []geo.Method
	for _, m := range l.rules.Methods {
		out = append(out, m.Code)
	}
	return append(out, geo.MethodMachine, geo.MethodUnknown)
}

// Judge takes the account of the present state.
func (l *live) Judge(ctx context.Context, progress trust.Progress) (trust.Report, error) {
	return trust.Run(ctx, l.evidence.Snapshot(), l.rules, trust.DefaultOptions(), progress)
}
