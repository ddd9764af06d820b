package programme

import (
	"math"

	"waterstrike/geo"
)

func fail(kind geo.Kind, code geo.Code, args ...geo.Arg) error {
	return geo.Fail(kind, "programme.Solve", geo.Say(code, args...), nil)
}

func village(id string) geo.Arg { return geo.With("id", geo.Text(id)) }

// amount reports whether a number is one of 0 or more.
func amount(v float64) bool { return v >= 0 && !math.IsInf(v, 0) }

func chance(v float64) bool { return v >= 0 && v <= 1 }

// check refuses what no programme can be made from. It returns the number of scenarios.
func (p *Problem) check() (scenarios int, err error) {
	if !amount(p.Budget) || p.Budget == 0 {
		return 0, fail(geo.Invalid, "programme.no-budget", geo.With("sum", geo.Number(p.Budget)))
	}
	if err := p.Rules.check(); err != nil {
		return 0, err
	}
	if err := p.checkWindows(); err != nil {
		return 0, err
	}
	known, err := p.checkVillages()
	if err != nil {
		return 0, err
	}
	scenarios, err = p.checkOptions()
	if err != nil {
		return 0, err
	}
	if p.Rules.Caution > 0 && scenarios < leastCases {
		return 0, fail(geo.Invalid, "programme.few-scenarios", geo.With("n", geo.Count(scenarios)), geo.With("total", geo.Count(leastCases)))
	}
	return scenarios, p.checkLists(known)
}

func (r *Rules) check() error {
	for name, ok := range map[string]bool{
		"walk": r.WalkM > 0, "least-chance": chance(r.LeastChance), "most-risk": chance(r.MostRisk.Or(0)),
		"caution": chance(r.Caution), "gap": chance(r.Gap), "effort": r.Effort >= 1,
	} {
		if !ok {
			return fail(geo.Invalid, "programme.bad-rule", geo.With("field", geo.Text(name)))
		}
	}
	return nil
}

func (p *Problem) checkWindows() error {
	weeks := 0.0
	for _, w := range p.Windows {
		if !amount(w.Weeks) {
			return fail(geo.Invalid, "programme.bad-window", geo.With("value", geo.Text(w.Name)))
		}
		weeks += w.Weeks
	}
	switch {
	case len(p.Windows) > mostWindows:
		return fail(geo.Invalid, "programme.too-many-windows", geo.With("n", geo.Count(len(p.Windows))), geo.With("total", geo.Count(mostWindows)))
	case weeks == 0:
		return fail(geo.Invalid, "programme.no-weeks")
	}
	return nil
}

// checkVillages looks at villages, rounds and floors, and returns the villages' IDs.
func (p *Problem) checkVillages() (known map[string]bool, err error) {
	rounds := map[string]bool{"": true}
	for _, r := range p.Rounds {
		if r.ID == "" || rounds[r.ID] || !amount(r.Cost) || !amount(r.Weeks) {
			return nil, fail(geo.Invalid, "programme.bad-round", geo.With("value", geo.Text(r.ID)))
		}
		rounds[r.ID] = true
	}
	known, districts := map[string]bool{}, map[string]bool{}
	for _, v := range p.Villages {
		switch {
		case v.ID == "":
			return nil, fail(geo.Invalid, "programme.no-id")
		case known[v.ID]:
			return nil, fail(geo.Invalid, "programme.village-twice", village(v.ID))
		case v.Unserved < 0:
			return nil, fail(geo.Invalid, "programme.people-negative", village(v.ID), geo.With("hand", geo.Number(v.Unserved)))
		case !rounds[v.Round]:
			return nil, fail(geo.Invalid, "programme.round-unknown", village(v.ID), geo.With("value", geo.Text(v.Round)))
		}
		known[v.ID], districts[v.District] = true, true
	}
	if len(p.Villages) == 0 {
		return nil, fail(geo.TooFewData, "programme.no-villages")
	}
	floors := map[string]bool{}
	for _, f := range p.Floors {
		if f.Villages < 0 || !amount(f.People) || floors[f.District] {
			return nil, fail(geo.Invalid, "programme.bad-floor", geo.With("district", geo.Text(f.District)))
		}
		if !districts[f.District] {
			return nil, fail(geo.Invalid, "programme.floor-nowhere", geo.With("district", geo.Text(f.District)))
		}
		floors[f.District] = true
	}
	return known, nil
}

// checkOptions returns how many scenarios the chances have: the same for all, 1 where each
// has but one chance.
func (p *Problem) checkOptions() (scenarios int, err error) {
	scenarios = 1
	for _, v := range p.Villages {
		if len(v.Options) > mostOptions {
			return 0, fail(geo.Invalid, "programme.too-many-options", village(v.ID), geo.With("n", geo.Count(len(v.Options))), geo.With("total", geo.Count(mostOptions)))
		}
		for _, o := range v.Options {
			if !o.whole(len(p.Windows)) {
				return 0, fail(geo.Invalid, "programme.bad-option", village(v.ID), geo.With("value", geo.Text(o.Spot+" "+string(o.Method))))
			}
			if n := len(o.Chances); n > 1 && scenarios > 1 && n != scenarios {
				return 0, fail(geo.Invalid, "programme.scenarios-differ", village(v.ID), geo.With("n", geo.Count(n)), geo.With("total", geo.Count(scenarios)))
			}
			scenarios = max(scenarios, len(o.Chances))
		}
	}
	return scenarios, nil
}

// whole reports whether the numbers of an option are ones that can be.
func (o *Option) whole(windows int) bool {
	ok := amount(o.WalkM) && amount(o.Cost) && amount(o.Weeks) && o.People >= 0 && len(o.Chances) > 0 && chance(o.Risk.Or(0))
	for _, c := range o.Chances {
		ok = ok && chance(c)
	}
	for _, w := range o.Windows {
		ok = ok && w >= 0 && w < windows
	}
	return ok
}

func (p *Problem) checkLists(known map[string]bool) error {
	must := map[string]bool{}
	for _, id := range p.Must {
		if !known[id] {
			return fail(geo.NotFound, "programme.listed-unknown", village(id))
		}
		must[id] = true
	}
	for _, id := range p.Never {
		if !known[id] {
			return fail(geo.NotFound, "programme.listed-unknown", village(id))
		}
		if must[id] {
			return fail(geo.Invalid, "programme.must-and-never", village(id))
		}
	}
	return nil
}
