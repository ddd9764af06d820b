package season

import (
	"cmp"
	"context"
	"slices"
	"strconv"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
)

// AccountSchema names the form of [Account] that this version writes.
const AccountSchema = "waterstrike.account.1"

// AccountAsk is one question about what was achieved.
type AccountAsk struct {
	Standard coverage.Standard `json:"standard"`
	On       geo.Date          `json:"on"`
	Tested   bool              `json:"tested"`
	// Foretold is the chance that was stated for a bore from the others alone, by ID; none
	// where nobody took the track record.
	Foretold map[string]float64 `json:"-"`
}

// Account is what was achieved up to a day, with the records that every figure rests on.
type Account struct {
	Schema   string                      `json:"schema"`
	Snapshot string                      `json:"snapshot"`
	Ask      AccountAsk                  `json:"ask"`
	Now      *coverage.Count             `json:"now"`
	Years    []Year                      `json:"years"` // on the same day of each year, the last one Now
	Outcomes coverage.OutcomeAccount     `json:"outcomes"`
	ByYear   []coverage.OutcomeAccount   `json:"byYear"` // of completion, "" where it is not known
	ByMethod []coverage.OutcomeAccount   `json:"byMethod"`
	Currency string                      `json:"currency,omitempty"` // of all costs; bores priced in others are left out of them
	Waivers  []Waiver                    `json:"waivers,omitempty"`  // tests of water that bores counted here were never given
	Lasting  *coverage.Functionality     `json:"lasting,omitempty"`  // nil where no point was watched
	Labels   map[string]string           `json:"labels"`             // what people call each record
	Places   map[string]geo.Opt[Located] `json:"-"`
	// Boundaries are the districts, or the region where there are none.
	Boundaries []geo.Boundary `json:"-"`
}

// Located is where a record lies.
type Located struct{ Lat, Lon float64 }

// Year is coverage on one day.
type Year struct {
	On       geo.Date `json:"on"`
	Served   int      `json:"served"`
	Living   int      `json:"living"`
	AtMost   int      `json:"atMost"` // if points that nobody had visited by then worked
	Villages []string `json:"villages,omitempty"`
	Points   []string `json:"points,omitempty"`
}

// mostYears is how far back coverage is told.
const mostYears = 12

// lastingYears are the horizons that are told of points.
func lastingYears() []float64 { return []float64{1, 2, 5} }

// Report accounts for what was achieved up to a day: who has water by the standard, how
// that came about, what bores came to beside what was foretold, what they cost, and how
// long points keep working. Bores finished and visits made later are not looked at. The
// same records and question give the same account.
//
//   - Domain: any records; a figure that rests on none is missing, never 0.
//   - Errors: [geo.Invalid] for a day before all dated records; those of [coverage.Prepare]
//     and [coverage.Outcomes]; the context's.
//   - Cost: see BenchmarkReport.
//   - Checked by: TestReportIsCounted, TestReportOfNothing, TestBeforeTheRecords.
func Report(ctx context.Context, r *Records, ask AccountAsk) (*Account, error) {
	if err := r.reach(ask.On); err != nil {
		return nil, err
	}
	a := &Account{Schema: AccountSchema, Snapshot: r.Snapshot, Ask: ask, Labels: map[string]string{}, Places: map[string]geo.Opt[Located]{}}
	a.name(r)
	a.Boundaries = r.outlines()
	points, of, err := r.points()
	if err != nil {
		return nil, err
	}
	land, err := coverage.Prepare(ctx, r.villages(), points, ask.Standard.WalkM)
	if err != nil {
		return nil, err
	}
	if err := a.count(ctx, land, points); err != nil {
		return nil, err
	}
	if err := a.bores(r.Bores, of); err != nil {
		return nil, err
	}
	a.Lasting, err = coverage.Lasts(points, ask.On, lastingYears()...)
	if geo.KindOf(err) == geo.TooFewData {
		a.Lasting, err = nil, nil
	}
	return a, err
}

// name keeps what people call each record, and where it lies.
func (a *Account) name(r *Records) {
	put := func(id, label string, lat, lon float64) {
		a.Labels[id], a.Places[id] = label, geo.Some(Located{lat, lon})
	}
	for _, v := range r.Villages {
		put(string(v.ID), v.Name, v.Position.Pos.Lat, v.Position.Pos.Lon)
	}
	for _, w := range r.Points {
		put(string(w.ID), w.Name, w.Position.Pos.Lat, w.Position.Pos.Lon)
	}
	for _, b := range r.Bores {
		a.Labels[string(b.ID)] = b.Label()
		if at, known := b.Position.Get(); known {
			put(string(b.ID), b.Label(), at.Pos.Lat, at.Pos.Lon)
		}
	}
}

// count tells coverage on the day and on the same day of the years before.
func (a *Account) count(ctx context.Context, land *coverage.Land, points []coverage.Point) error {
	first := a.Ask.On.Year
	for _, p := range points {
		if built, known := p.Built.Get(); known {
			first = min(first, built.Year)
		}
		for _, v := range p.Visits {
			if v.On.Year > 0 {
				first = min(first, v.On.Year)
			}
		}
	}
	for year := max(first, a.Ask.On.Year-mostYears+1); year <= a.Ask.On.Year; year++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		on := a.Ask.On
		on.Year = year
		if on.Month == 2 && on.Day == 29 {
			on.Day = 28
		}
		if year == a.Ask.On.Year {
			on = a.Ask.On
		}
		q := coverage.Ask{Standard: a.Ask.Standard, On: on, Tested: a.Ask.Tested}
		c, err := land.Count(q)
		if err != nil {
			return err
		}
		q.TakeUnvisited = true
		most, err := land.Count(q)
		if err != nil {
			return err
		}
		a.Now = c
		a.Years = append(a.Years, Year{on, c.Served.N, c.Living.N, most.Served.N, c.Served.Villages, c.Served.Points})
	}
	return nil
}

// bores accounts for the bores finished by the day, as a whole, by year and by method.
func (a *Account) bores(all []geo.Bore, of map[string]*geo.Bore) error {
	served := map[string]int{}
	for _, p := range a.Now.Points {
		if b := of[p.ID]; b != nil {
			served[string(b.ID)] = p.Served
		}
	}
	a.Currency = usualCurrency(all)
	var list []coverage.Bore
	var years, methods []string
	for i := range all {
		b := &all[i]
		on, dated := b.Completed.Get()
		if dated && on.Compare(a.Ask.On) > 0 {
			continue
		}
		a.Waivers = append(a.Waivers, waivers(b, a.Ask.On)...)
		x := coverage.Bore{ID: string(b.ID), Outcome: b.Outcome, DepthM: b.DepthM}
		if cost, known := b.Cost.Get(); known && cost.Currency == a.Currency {
			x.Cost = geo.Some(cost.Amount)
		}
		if p, known := a.Ask.Foretold[x.ID]; known {
			x.Predicted = geo.Some(p)
		}
		if n, counted := served[x.ID]; counted {
			x.Served = geo.Some(n)
		}
		year := ""
		if dated {
			year = strconv.Itoa(on.Year)
		}
		list, years, methods = append(list, x), append(years, year), append(methods, string(b.Method))
	}
	var err error
	if a.Outcomes, a.ByYear, err = grouped(list, years); err != nil {
		return err
	}
	_, a.ByMethod, err = grouped(list, methods)
	return err
}

func grouped(list []coverage.Bore, groups []string) (coverage.OutcomeAccount, []coverage.OutcomeAccount, error) {
	for i := range list {
		list[i].Group = groups[i]
	}
	return coverage.Outcomes(list)
}

// usualCurrency is the currency that most bores are priced in, the first by name of several.
func usualCurrency(bores []geo.Bore) string {
	count := map[string]int{}
	var codes []string
	for _, b := range bores {
		if cost, known := b.Cost.Get(); known {
			if count[cost.Currency] == 0 {
				codes = append(codes, cost.Currency)
			}
			count[cost.Currency]++
		}
	}
	if len(codes) == 0 {
		return ""
	}
	return slices.MinFunc(codes, func(x, y string) int { return cmp.Or(cmp.Compare(count[y], count[x]), cmp.Compare(x, y)) })
}
