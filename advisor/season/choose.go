package season

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"waterstrike/advisor"
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/programme"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Schema names the form of [Season] that this version writes.
const Schema = "waterstrike.season.2"

// Season is the answer to a planner's wishes.
type Season struct {
	Schema    string                  `json:"schema"`
	Snapshot  string                  `json:"snapshot"`
	Wishes    Wishes                  `json:"wishes"`
	Living    int                     `json:"living"`
	Served    int                     `json:"served"`            // within the standard, before the season
	Villages  []Village               `json:"villages"`          // by need, the largest first
	Unknown   []string                `json:"unknown,omitempty"` // villages whose people nobody counted: left out
	Programme *programme.Programme    `json:"programme"`
	Other     *programme.Programme    `json:"other,omitempty"` // the careful one beside it, or the plain one where care was asked for
	Beside    programme.Difference    `json:"beside"`          // what the other does otherwise
	More      geo.Opt[programme.Gain] `json:"more,omitzero"`   // what 1,000 more buys
	Prices    Prices                  `json:"prices"`
	Drilled   []Drilled               `json:"drilled"` // by district
	Bacteria  Bacteria                `json:"bacteria"`
	// Boundaries are the districts, or the region where there are none.
	Boundaries []geo.Boundary `json:"-"`
}

// Village is one village with its need and the spots about it.
type Village struct {
	ID       string       `json:"id"`
	Name     string       `json:"name"`
	District string       `json:"district,omitempty"`
	At       coord.LonLat `json:"at"`
	People   geo.Opt[int] `json:"people,omitzero"`
	Unserved int          `json:"unserved"`        // without a working point within the standard
	Spots    []Spot       `json:"spots,omitempty"` // likeliest first; none where nobody is in need
}

// Adviser answers at many spots together.
type Adviser interface {
	// Prospects is [advisor.Advisor.Prospects].
	Prospects(ctx context.Context, spots []coord.LonLat, o advisor.ProspectOptions, progress advisor.Progress) ([]advisor.Prospect, error)
	// Currency is that of the price list, "" without one.
	Currency() string
}

// Choose finds who is in need, looks for spots about every such village, and chooses the
// programme. The same records, wishes and seed give the same answer.
//
//   - Domain: villages whose people are known; those where nobody is in need get no spots.
//   - Errors: [geo.Invalid] for wishes that cannot be met by any programme, with what to
//     change; [geo.NotFound] for villages that are listed and not there; [geo.TooFewData]
//     without villages; those of [programme.Solve]; the context's.
//   - Cost: seven spots a village in need, each that of an advice; then [programme.Solve]
//     three times.
//   - Checked by: TestChooseOnTheLand, TestChooseRefuses.
func Choose(ctx context.Context, r *Records, a Adviser, w Wishes, progress advisor.Progress) (*Season, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	if err := r.reach(w.On); err != nil {
		return nil, err
	}
	out := &Season{Schema: Schema, Snapshot: r.Snapshot, Wishes: w, Boundaries: r.outlines()}
	if err := out.needs(ctx, r); err != nil {
		return nil, err
	}
	if err := out.Wishes.meets(r, out.Villages); err != nil {
		return nil, err
	}
	var err error
	if out.Prices, err = pricesOf(r.Bores, &w, a.Currency()); err != nil {
		return nil, err
	}
	if err := out.look(ctx, r, a, progress); err != nil {
		return nil, err
	}
	p, err := out.problem(r)
	if err != nil {
		return nil, err
	}
	return out, out.named(out.solve(ctx, p))
}

// named puts the village's name where an error holds its ID: nobody knows a village by that.
func (s *Season) named(err error) error {
	var failure *geo.Error
	if !errors.As(err, &failure) {
		return err
	}
	args := slices.Clone(failure.Message.Args)
	for i, a := range args {
		for _, v := range s.Villages {
			if a.Name == "id" && a.Value == geo.Text(v.ID) {
				args[i].Value = geo.Text(v.Name)
			}
		}
	}
	return geo.Fail(failure.Kind, failure.Op, geo.Say(failure.Message.Code, args...), failure.Err)
}

// needs counts who is without a point within the standard.
func (s *Season) needs(ctx context.Context, r *Records) error {
	points, _, err := r.points()
	if err != nil {
		return err
	}
	land, err := coverage.Prepare(ctx, r.villages(), points, s.Wishes.Standard.WalkM)
	if err != nil {
		return err
	}
	count, err := land.Count(coverage.Ask{Standard: s.Wishes.Standard, On: s.Wishes.On, Tested: s.Wishes.Tested})
	if err != nil {
		return err
	}
	s.Living, s.Served, s.Unknown = count.Living.N, count.Served.N, count.PeopleUnknown
	named := map[string]geo.Village{}
	for _, v := range r.Villages {
		named[string(v.ID)] = v
	}
	for _, c := range count.Villages {
		v := named[c.ID]
		if c.People.Known() {
			s.Villages = append(s.Villages, Village{ID: c.ID, Name: v.Name, District: c.District, At: v.Position.Pos, People: c.People, Unserved: c.Unserved})
		}
	}
	slices.SortStableFunc(s.Villages, func(a, b Village) int { return cmp.Compare(b.Unserved, a.Unserved) })
	if len(s.Villages) == 0 {
		return fail(geo.TooFewData, "programme.no-villages")
	}
	return nil
}

// look asks the advisor at spots about every village in need and keeps the likeliest.
func (s *Season) look(ctx context.Context, r *Records, a Adviser, progress advisor.Progress) error {
	var spots []coord.LonLat
	for i := range s.Villages {
		if v := &s.Villages[i]; v.Unserved > 0 {
			v.Spots = candidates(v.At, s.Wishes.Standard.WalkM)
			for _, x := range v.Spots {
				spots = append(spots, x.At)
			}
		}
	}
	said, err := a.Prospects(ctx, spots, advisor.ProspectOptions{Seed: s.Wishes.Seed, Least: s.Wishes.Least / 2}, progress)
	if err != nil {
		return err
	}
	rivers, waters := riversOf(r.Rivers), watersOf(r.Bores)
	s.Drilled, s.Bacteria = drilled(s.Villages, r.Bores, r.districts()), waters.bacteria
	next := 0
	for i := range s.Villages {
		v := &s.Villages[i]
		for k := range v.Spots {
			s.weigh(&v.Spots[k], said[next], rivers, &waters)
			next++
		}
		v.keep()
	}
	return nil
}

// weigh says what a spot offers, or why it is left.
func (s *Season) weigh(x *Spot, said advisor.Prospect, r rivers, w *waters) {
	x.Unsure, x.Risk = said.Verdict == advisor.NotEnough, w.risk(x.At)
	switch {
	case r.beside(x.At, riverM):
		x.Left = geo.Some(BesideRiver)
	case said.Land.AboveRiverM.Or(aboveRiverM) < aboveRiverM:
		x.Left = geo.Some(Floods)
	}
	for _, y := range said.Ways {
		if y.Well.Known() && len(x.Ways) < waysKept {
			days := y.Work.DaysOut.P80
			x.Ways = append(x.Ways, Way{
				Method: y.Method, Chance: y.Chance, WellM: y.Well, Cost: s.Prices.of(y), Weeks: days / s.Wishes.WeekDays, each: y.Chances,
			})
		}
	}
}

// keep puts the likeliest spots first and leaves the rest.
func (v *Village) keep() {
	best := func(x *Spot) float64 {
		if x.Left.Known() || len(x.Ways) == 0 {
			return -1
		}
		return x.Ways[0].Chance
	}
	slices.SortStableFunc(v.Spots, func(a, b Spot) int { return cmp.Compare(best(&b), best(&a)) })
	v.Spots = v.Spots[:min(spotsKept, len(v.Spots))]
}

// problem puts the season to advisor/programme.
func (s *Season) problem(r *Records) (programme.Problem, error) {
	w := &s.Wishes
	p := programme.Problem{Budget: w.Budget, Windows: w.Windows, Floors: w.Floors, Rules: programme.DefaultRules()}
	p.Rules.WalkM, p.Rules.LeastChance, p.Rules.MostRisk = w.Standard.WalkM, w.Least, w.MostRisk
	p.Rules.SecondTry, p.Rules.SecondPoint, p.Rules.ReserveTry, p.Rules.Caution = w.SecondTry, w.Twice, w.Reserve, w.Caution
	var err error
	if p.Must, err = r.named(w.Must); err != nil {
		return p, err
	}
	if p.Never, err = r.named(w.Never); err != nil {
		return p, err
	}
	places := make([]programme.Place, len(s.Villages))
	for i, v := range s.Villages {
		places[i] = programme.Place{ID: v.ID, At: v.At}
	}
	base := w.Base.Or(middle(s.Villages))
	rounds, of, err := programme.Group(places, programme.Travel{Base: base, ReachM: roundM, PerKM: w.PerKM, KMAWeek: kmAWeek, Detour: detour})
	if err != nil {
		return p, err
	}
	p.Rounds = rounds
	for i := range s.Villages {
		v := &s.Villages[i]
		p.Villages = append(p.Villages, programme.Village{
			ID: v.ID, District: v.District, Round: of[v.ID], Unserved: v.Unserved,
			BaseM: geo.Some(coord.DistanceM(base, v.At)), Options: v.options(s.served(v)),
		})
	}
	return p, nil
}

// served is how many people a new point serves under the standard: a tube well with a hand
// pump, which gives what the standard asks for.
func (s *Season) served(v *Village) int {
	for _, k := range s.Wishes.Standard.Kinds {
		if k.Kind == geo.TubeWell {
			return k.People.Or(v.Unserved)
		}
	}
	return 0
}

func (v *Village) options(people int) (out []programme.Option) {
	for _, x := range v.Spots {
		if x.Left.Known() {
			continue
		}
		for _, y := range x.Ways {
			deep := geo.Opt[float64]{}
			if r, known := y.WellM.Get(); known {
				deep = geo.Some(r.P50)
			}
			out = append(out, programme.Option{
				Spot: x.Name, Method: y.Method, WalkM: x.WalkM, Chances: y.each, DepthM: deep, People: people,
				Cost: y.Cost, Weeks: y.Weeks, Risk: x.Risk,
			})
		}
	}
	return out
}

// middle is where the crews start when nobody says: the village nearest to the middle of all.
func middle(villages []Village) coord.LonLat {
	lon, lat := 0.0, 0.0
	for _, v := range villages {
		lon, lat = lon+v.At.Lon/float64(len(villages)), lat+v.At.Lat/float64(len(villages))
	}
	mean := coord.LonLat{Lon: lon, Lat: lat}
	return slices.MinFunc(villages, func(a, b Village) int {
		return cmp.Or(cmp.Compare(coord.DistanceM(mean, a.At), coord.DistanceM(mean, b.At)), cmp.Compare(a.ID, b.ID))
	}).At
}

// otherCaution is the caution of the programme beside a plain one.
const otherCaution = 0.5

// weighed is a programme's people, the worst fifth of cases with the weight of a caution.
func weighed(x *programme.Programme, caution float64) float64 {
	return (1-caution)*x.People + caution*x.Worst.Or(x.People)
}

// solve chooses the programme, the other one beside it, and what more money buys. Each of
// the two begins with the other, so that neither is better by the other's own measure.
func (s *Season) solve(ctx context.Context, p programme.Problem) error {
	var err error
	offered := slices.ContainsFunc(p.Villages, func(v programme.Village) bool { return len(v.Options) > 0 })
	if !offered {
		p.Rules.Caution = 0 // there is nothing to be careful with
	}
	if s.Programme, err = programme.Solve(p); err != nil || !offered {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	other := p
	other.Rules.Caution = otherCaution
	if s.Wishes.Caution > 0 {
		other.Rules.Caution = 0
	}
	if s.Other, err = programme.SolveFrom(other, s.Programme); err != nil {
		return err
	}
	if weighed(s.Other, p.Rules.Caution) > weighed(s.Programme, p.Rules.Caution) {
		if s.Programme, err = programme.SolveFrom(p, s.Other); err != nil {
			return err
		}
	}
	s.Beside = programme.Compare(s.Programme, s.Other)
	if err := ctx.Err(); err != nil {
		return err
	}
	gain, err := programme.More(p, s.Programme, more)
	if err == nil {
		s.More = geo.Some(*gain)
	}
	return err
}
