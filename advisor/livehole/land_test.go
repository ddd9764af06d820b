package livehole

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/advisortest"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/advisor/method"
	"waterstrike/advisor/method/methodtest"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
	"waterstrike/geo/terrain"
)

// region is an invented region with an advisor over its records, and a survey where it is
// whole.
type region struct {
	*demoland.Land
	advisor *advisor.Advisor
	maker   *Maker
	month   int // of the low
	rng     *rand.Rand
}

func newRegion(t *testing.T, seed uint64, whole bool) region {
	t.Helper()
	land := demoland.New(seed)
	bores := land.Records().Bores
	if !whole {
		bores = bores[:160]
	}
	s, err := evidence.Load(t.Context(), evidencetest.Bores(bores))
	if err != nil {
		t.Fatal(err)
	}
	if whole {
		s = surveyed(t, s, land)
	}
	a := advisortest.Of(t, s)
	maker, err := NewMaker(t.Context(), a)
	if err != nil {
		t.Fatal(err)
	}
	low := time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, land.LowDay())
	return region{land, a, maker, int(low.Month()), rand.New(rand.NewPCG(seed, 77))}
}

// surveyed gives a snapshot the elevations that a survey of the region has.
func surveyed(t *testing.T, s *evidence.Snapshot, land *demoland.Land) *evidence.Snapshot {
	t.Helper()
	grid, err := land.Grid(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	shape, err := terrain.Derive(t.Context(), grid, terrain.Defaults(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return s.On(shape)
}

// dig is one site with one method: what is there, what a crew would write, and how deep
// the hole becomes a well.
type dig struct {
	pack    Pack
	log     Log       // of the whole hole as far as the method gets
	cells   int       // as far as it gets
	worksAt int       // cells at which it becomes a well, 0 where it never does
	cost    []float64 // of drilling so many cells
	hard    []bool    // metres that took more than two hours
}

// dig works a site out for the method of the best chance.
func (r region) dig(t *testing.T, at coord.LonLat) dig {
	t.Helper()
	p, err := r.maker.Make(t.Context(), advisor.Question{At: at, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	said, err := r.advisor.Advise(t.Context(), advisor.Question{At: at, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	code := said.Methods[0].Method
	p.Methods = p.Methods[p.method(code) : p.method(code)+1]
	m, _ := method.Find(r.advisor.Methods(), code)
	d := dig{pack: p, log: Log{Schema: LogSchema, Method: code, Month: r.month}}
	rules := demoland.HandPump(methodtest.Limits(&m), m.HoleMM)
	d.cells = int(r.Judge(at, rules).BottomM / cellM)
	for cells := 1; cells <= d.cells && d.worksAt == 0; cells++ {
		rules.MaxDepthM = float64(cells) * cellM
		if r.Judge(at, rules).Fails == demoland.None {
			d.worksAt = cells
		}
	}
	d.describe(r, r.Column(at))
	return d
}

// describe writes the log of the hole as a crew would: names by the confusion of field
// classification, minutes with a spread, the strike and the level read.
func (d *dig) describe(r region, truth demoland.Column) {
	d.log.DepthM = float64(d.cells) * cellM
	naming := strata.Naming()
	d.cost = []float64{0}
	m := &d.pack.Methods[0]
	for _, l := range truth.Layers {
		if l.TopM >= d.log.DepthM {
			break
		}
		u, named := r.rng.Float64(), soil.Unknown
		for k, q := range naming[l.Class-1] {
			if u -= q; u < 0 {
				named = soil.Class(k + 1)
				break
			}
		}
		pace := m.Minutes[l.Class-1] * math.Exp(0.5*r.rng.NormFloat64())
		d.log.Layers = append(d.log.Layers, Layer{l.TopM, min(l.BaseM, d.log.DepthM), named, geo.Some(pace)})
	}
	for z := range d.cells {
		pace := 60.0
		for _, l := range d.log.Layers {
			if l.TopM <= middleM(z) {
				pace = l.MinutesPerM.Or(0) * (1 + m.SlowerPerM*middleM(z))
			}
		}
		d.cost = append(d.cost, d.cost[z]+pace*cellM/60*m.HourCost)
		d.hard = append(d.hard, pace > 120)
	}
	d.log.StrikeM, d.log.LevelM = geo.Some(truth.StrikeM), geo.Some(truth.NormalLowM+0.1*r.rng.NormFloat64())
}

// at is the log when the hole was so many cells deep.
func (d *dig) at(cells int) Log {
	out := d.log
	out.DepthM, out.Layers = float64(cells)*cellM, nil
	for _, l := range d.log.Layers {
		if l.TopM < out.DepthM {
			l.BaseM = min(l.BaseM, out.DepthM)
			out.Layers = append(out.Layers, l)
		}
	}
	if at := d.log.StrikeM.Or(0); at+0.1 > out.DepthM {
		out.StrikeM, out.LevelM = geo.Opt[float64]{}, geo.Opt[float64]{}
	}
	return out
}

// tally is what a strategy achieves.
type tally struct {
	sites, successes, abandoned int
	metres, cost                float64
}

// stop counts a hole that its crew gives up at so many cells, unless it works before.
func (x *tally) stop(d *dig, cells int) {
	m := &d.pack.Methods[0]
	x.sites++
	x.cost += m.SetUpCost
	if d.worksAt > 0 && d.worksAt <= cells {
		x.successes++
		x.metres += float64(d.worksAt) * cellM
		x.cost += d.cost[d.worksAt] + m.LineCost
		return
	}
	if d.worksAt > 0 {
		x.abandoned++
	}
	cells = min(cells, d.cells)
	x.metres += float64(cells) * cellM
	x.cost += d.cost[cells] + d.pack.Costs.Close
}

func (x tally) String() string {
	return fmt.Sprintf("%d sites, %.0f m, %d successes, %d good holes abandoned, cost per success %.1f", x.sites, x.metres, x.successes, x.abandoned, x.cost/float64(x.successes))
}

// afterHard is where a crew stops that gives up after two hard metres in a row.
func (d *dig) afterHard() int {
	hard := 0
	for z := 1; z < d.cells; z += 2 {
		if d.hard[z] && d.hard[z-1] {
			if hard++; hard == 2 {
				return z + 1
			}
		} else {
			hard = 0
		}
	}
	return d.cells
}

// followed is where a crew stops that asks after every metre, for each of several costs of
// a success elsewhere.
func (d *dig) followed(t *testing.T, next []float64) []int {
	t.Helper()
	stops := make([]int, len(next))
	going := len(next)
	for cells := 0; cells < d.cells && going > 0 && (d.worksAt == 0 || cells < d.worksAt); cells += 2 {
		l := d.at(cells)
		if err := l.Check(&d.pack); err != nil {
			t.Fatal(err)
		}
		h := l.cut()
		looks := d.pack.looks(&l, &h)
		m := &d.pack.Methods[0]
		flows := d.pack.drill(m, &h, l.Month, looks)
		for i := range next {
			if stops[i] < cells {
				continue
			}
			p := d.pack
			p.Costs.Next = next[i]
			if v := p.stopping(m, flows, h.cells); v.best+p.Costs.Close > 0 {
				stops[i] = cells + 2
			} else {
				going--
			}
		}
	}
	return stops
}

// factors are what a success elsewhere is taken to cost, against what the pack says.
var factors = []float64{0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.2, 1.5, 2, 3, 5}

// The live hole against crews that always go to the limit, and crews that stop after two
// hard metres; paired by site, with the method of the best chance, each hole made a well as
// soon as it gives enough. The rows stand in DEVELOPERS.md.
func TestOnTheLand(t *testing.T) {
	seeds, sites := []uint64{12}, 4
	long := os.Getenv("WATERSTRIKE_LONG") != ""
	if long {
		seeds, sites = []uint64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 24
	}
	var always, hard tally
	live := make([]tally, len(factors))
	for _, seed := range seeds {
		r := newRegion(t, seed, long)
		for _, at := range r.VillageSites(sites, 2) {
			d := r.dig(t, at)
			always.stop(&d, d.cells)
			hard.stop(&d, d.afterHard())
			var next []float64
			for _, f := range factors {
				next = append(next, f*d.pack.Costs.Next)
			}
			for i, cells := range d.followed(t, next) {
				live[i].stop(&d, cells)
			}
		}
	}
	t.Logf("always to the limit: %v", always)
	t.Logf("stop after two hard metres: %v", hard)
	for i, f := range factors {
		t.Logf("live hole, a success elsewhere at %.1f of the pack's: %v", f, live[i])
	}
	for i := range live[1:] {
		if live[i+1].metres < live[i].metres || live[i+1].abandoned > live[i].abandoned {
			t.Errorf("a success worth more stops sooner: %v, then %v", live[i], live[i+1])
		}
	}
	if most := live[len(live)-1]; most.metres > always.metres || most.successes > always.successes {
		t.Errorf("the live hole goes beyond the limit: %v", most)
	}
	if !long {
		return
	}
	for name, than := range map[string]tally{"always to the limit": always, "two hard metres": hard} {
		best := matched(live, than)
		t.Logf("at no higher cost per success than %s: %v", name, best)
		if float64(best.successes) < 0.95*float64(than.successes) || name == "always to the limit" && best.metres >= than.metres {
			t.Errorf("the live hole does no better than %s: %v", name, than)
		}
	}
}

// matched is the most that the live hole achieves at no higher cost per success.
func matched(live []tally, than tally) (best tally) {
	for _, x := range live {
		if x.successes > best.successes && x.cost*float64(than.successes) <= than.cost*float64(x.successes) {
			best = x
		}
	}
	return best
}
