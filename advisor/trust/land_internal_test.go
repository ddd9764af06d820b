package trust

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/advisor/method"
	"waterstrike/advisor/method/methodtest"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/terrain"
)

// seeds and sites of an account against the truth: few in the usual run, ten regions and
// 4,000 sites in the long one.
func extent() (seeds, sites int) {
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		return 10, 200
	}
	return 2, 60
}

// The advice on the invented region must be honest against its exact truth. The numbers
// are written in DEVELOPERS.md: a commit that changes a model changes them there too.
func TestAgainstTheLand(t *testing.T) {
	seeds, sites := extent()
	var village, random Cases
	regions := make([][2]Cases, seeds)
	var working sync.WaitGroup
	turn := make(chan bool, runtime.GOMAXPROCS(0))
	for seed := range seeds {
		working.Go(func() {
			turn <- true
			defer func() { <-turn }()
			v, u, err := truths(t.Context(), uint64(seed+1), sites)
			if err != nil {
				t.Error(err)
			}
			regions[seed] = [2]Cases{v, u}
		})
	}
	working.Wait()
	for _, r := range regions {
		village.join(r[0])
		random.join(r[1])
	}
	says := tableRow("village-like sites", Judge(village)) + "\n" + tableRow("random sites", Judge(random))
	t.Logf("%d regions, %d sites each\n%s", seeds, 2*sites, says)
	for _, line := range strings.Split(says, "\n") {
		if !developers(t, line) {
			t.Errorf("DEVELOPERS.md does not say, for %d regions:\n%s", seeds, line)
		}
	}
	better(t, "village-like sites", Judge(village))
	better(t, "random sites", Judge(random))
}

func (c *Cases) join(other Cases) {
	c.Levels = append(c.Levels, other.Levels...)
	c.Layers = append(c.Layers, other.Layers...)
	c.Outcomes = append(c.Outcomes, other.Outcomes...)
}

// developers reports that a row of scores stands in DEVELOPERS.md.
func developers(t *testing.T, line string) bool {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	return strings.Contains(string(text), line)
}

// tableRow writes an account as a row of the table in DEVELOPERS.md.
func tableRow(where string, a Account) string {
	l, o := a.Level, a.Outcome
	cells := []string{
		where,
		fmt.Sprintf("%.1f %%", 100*l.Coverage[1].Held),
		fmt.Sprintf("%+.2f of %.1f m", l.MedianM, l.FoundM),
		scores(l.Measures[0], 2),
		scores(a.Layers.Bands[0].Log, 3),
		scores(o.Brier, 3),
		fmt.Sprintf("%.3f, %.3f", o.MeanSaid, float64(o.Worked)/float64(o.Cases)),
		slope(o.Slope),
	}
	return "| " + strings.Join(cells, " | ") + " |"
}

func scores(m Measure, digits int) string {
	var out []string
	for _, s := range m.Standings {
		out = append(out, fmt.Sprintf("%.*f", digits, s.Score))
	}
	return out[0] + " (" + strings.Join(out[1:], ", ") + ")"
}

func slope(s geo.Opt[Interval]) string {
	i, ok := s.Get()
	if !ok {
		return "too few"
	}
	return fmt.Sprintf("%.2f (%.2f to %.2f)", i.Mid, i.Lo, i.Hi)
}

// better fails where anybody without a model does better.
func better(t *testing.T, where string, a Account) {
	t.Helper()
	for _, m := range []Measure{a.Level.Measures[0], a.Layers.Bands[0].Log, a.Outcome.Brier} {
		for _, s := range m.Standings[1:] {
			if s.Score <= m.Standings[0].Score {
				t.Errorf("%s, %s: %s has %.4f, the advisor %.4f", where, m.Code, s.Who, s.Score, m.Standings[0].Score)
			}
		}
	}
	abstains(t, where, a.Outcome)
}

// abstains fails where leaving out the least sure answers is no better than leaving out those
// far from any bore; on many regions also where answers that the advisor holds for enough are
// the worse ones, or where chances are too bold or too timid.
func abstains(t *testing.T, where string, o *OutcomeAccount) {
	t.Helper()
	said, width, distance := "", 0.0, 0.0
	for _, x := range o.Abstaining {
		said += fmt.Sprintf(" %.0f %% %.4f %.4f", 100*x.Answered, x.ByWidth, x.ByDistance)
		width, distance = width+x.ByWidth, distance+x.ByDistance
	}
	enough, split := o.Answered.Get()
	t.Logf("%s, answered and Brier score by width and by distance:%s; enough %.4f, the rest %.4f", where, said, enough.Brier, enough.Rest)
	if width >= distance {
		t.Errorf("%s: abstaining by distance is better: %.4f by width, %.4f by distance", where, width/10, distance/10)
	}
	if seeds, _ := extent(); seeds < 10 {
		return // what follows needs more sites than a usual run has
	}
	if split && enough.Brier >= enough.Rest {
		t.Errorf("%s: enough evidence scores %.4f, too little %.4f", where, enough.Brier, enough.Rest)
	}
	if slope, ok := o.Slope.Get(); !ok || math.Abs(math.Round(100*slope.Mid)-100) > 10 { // in the digits of the table
		t.Errorf("%s: the slope of the chance is %.3f: too bold below 0.90, timid above 1.10", where, slope.Mid)
	}
}

// truths makes the cases of one region, at village-like and at random sites.
func truths(ctx context.Context, seed uint64, sites int) (village, random Cases, err error) {
	land := demoland.New(seed)
	rules, err := advisor.DefaultRules()
	if err != nil {
		return village, random, err
	}
	s, err := evidence.Load(ctx, evidencetest.Bores(land.Records().Bores))
	if err != nil {
		return village, random, err
	}
	if s, err = surveyed(ctx, s, land); err != nil {
		return village, random, err
	}
	r := &run{rules: rules}
	w, err := r.fitted(ctx, s)
	if err != nil {
		return village, random, err
	}
	j := judge{land, w, int(seed) * 1000}
	if err := j.cases(ctx, &village, land.VillageSites(sites, 2)); err != nil {
		return village, random, err
	}
	return village, random, j.cases(ctx, &random, land.UniformSites(sites, 1))
}

// surveyed gives a snapshot the elevations that a survey of the region has.
func surveyed(ctx context.Context, s *evidence.Snapshot, land *demoland.Land) (*evidence.Snapshot, error) {
	grid, err := land.Grid(ctx, nil)
	if err != nil {
		return nil, err
	}
	shape, err := terrain.Derive(ctx, grid, terrain.Defaults(), nil)
	return s.On(shape), err
}

// judge asks a witness about places whose ground is known.
type judge struct {
	land  *demoland.Land
	w     *witness
	block int // number of the region's first block
}

// blockDeg is the side of a block of truth sites, degrees: about 9 km.
const blockDeg = 0.08

func (j judge) cases(ctx context.Context, c *Cases, sites []coord.LonLat) error {
	base := j.baseRates(sites)
	for _, site := range sites {
		p := j.w.advisor.At(site)
		said, err := p.Advise(ctx, advisor.Question{Seed: 1})
		if err != nil {
			return err
		}
		at := Case{At: site, Block: j.block + 30*int(math.Floor(site.Lat/blockDeg)+15) + int(math.Floor(site.Lon/blockDeg)+15)}
		if err := j.level(c, p, at); err != nil {
			return err
		}
		j.layers(c, p, at)
		j.outcomes(c, at, said, base)
	}
	return nil
}

func (j judge) level(c *Cases, p *advisor.Place, at Case) error {
	said, ok, err := p.Level()
	if err != nil || !ok {
		return err
	}
	others, ok, err := j.w.levels.say(at.At)
	if ok {
		c.Levels = append(c.Levels, LevelCase{
			Case: at, FoundM: j.land.Column(at.At).NormalLowM, Said: append([]Forecast{forecastOf(said.Low)}, others...),
		})
	}
	return err
}

func (j judge) layers(c *Cases, p *advisor.Place, at Case) {
	odds, ok := p.Layers()
	if !ok {
		return
	}
	log := strata.Log{}
	truth := j.land.Column(at.At)
	for i := range strata.Cells {
		log.Cells = append(log.Cells, truth.LayerAt((float64(i)+0.5)*strata.CellM).Class)
	}
	c.Layers = append(c.Layers, *j.w.compared(log, odds, at))
}

func (j judge) outcomes(c *Cases, at Case, said advisor.Advice, base map[geo.Method]float64) {
	for _, m := range j.w.advisor.Methods() {
		o := OutcomeCase{Case: at, Method: m.Code, Works: j.works(at.At, m), Enough: said.Verdict.Code != advisor.NotEnough}
		chance := 0.0
		for _, s := range said.Methods {
			if s.Method == m.Code {
				chance, o.Width = s.Chance, s.Hi-s.Lo
			}
		}
		var eightNearest float64
		_, eightNearest, o.NearestM = j.w.outcomes.say(at.At, m.Code)
		o.Said = []float64{chance, base[m.Code], eightNearest}
		c.Outcomes = append(c.Outcomes, o)
	}
}

func (j judge) works(at coord.LonLat, m method.Method) bool {
	return j.land.Succeeds(at, demoland.HandPump(methodtest.Limits(&m), m.HoleMM))
}

// baseRates are the true shares of success at these very sites: no teller could know a
// better base rate.
func (j judge) baseRates(sites []coord.LonLat) map[geo.Method]float64 {
	base := map[geo.Method]float64{}
	for _, m := range j.w.advisor.Methods() {
		for _, site := range sites {
			if j.works(site, m) {
				base[m.Code] += 1 / float64(len(sites))
			}
		}
	}
	return base
}

// recorded is a base of bores, with the rules that it is asked by.
func recorded(t *testing.T, bores []geo.Bore) (*evidence.Snapshot, advisor.Rules) {
	t.Helper()
	s, err := evidence.Load(t.Context(), evidencetest.Bores(bores))
	if err != nil {
		t.Fatal(err)
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	return s, rules
}

// An account of the region's own records: hidden bores are in no answer, folds and their
// order do not matter to the bytes, and it can be stopped.
func TestRunOnRecords(t *testing.T) {
	s, rules := recorded(t, demoland.New(3).Records().Bores)
	for _, by := range Splits() {
		o := DefaultOptions()
		o.Split, o.Most, o.Folds = by, 100, 2
		asked := 0
		r, err := Run(t.Context(), s, rules, o, func(done, total int) { asked = max(asked, done) })
		if err != nil {
			t.Fatal(err)
		}
		if asked != r.Asked || r.Asked == 0 || r.Asked > o.Most {
			t.Errorf("%s: told of %d bores, asked about %d", by, asked, r.Asked)
		}
		if r.Account.Level == nil || r.Account.Layers == nil || r.Account.Outcome == nil {
			t.Errorf("%s: a part of the account is missing: %+v", by, r.Account)
		}
		for _, m := range r.Misses {
			for _, b := range m.Evidence {
				if b.ID == m.ID {
					t.Errorf("%s: %s was misled by itself", by, m.Label)
				}
			}
		}
		if by != ByBlock {
			continue
		}
		again, err := Run(t.Context(), s, rules, o, nil)
		if err != nil || fmt.Sprintf("%+v", again.Account.Level) != fmt.Sprintf("%+v", r.Account.Level) {
			t.Errorf("%s: a second account differs (%v)", by, err)
		}
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := Run(stopped, s, rules, DefaultOptions(), nil); err == nil {
		t.Error("a stopped account was finished")
	}
	o := DefaultOptions()
	o.Split = "moon"
	if _, err := Run(t.Context(), s, rules, o, nil); geo.KindOf(err) != geo.Invalid {
		t.Errorf("split by moon: %v", err)
	}
}

// Bores that all stand in one place leave nobody to foretell them from, however they are
// hidden: the account says so instead of asking an empty base.
func TestRunOnOneSpot(t *testing.T) {
	bores := demoland.New(3).Records().Bores[:20]
	var first geo.Opt[coord.Reading]
	for i := range bores {
		if !first.Known() {
			first = bores[i].Position
		}
		bores[i].Position = first
	}
	s, rules := recorded(t, bores)
	for _, by := range Splits() {
		o := DefaultOptions()
		o.Split = by
		if _, err := Run(t.Context(), s, rules, o, nil); geo.KindOf(err) != geo.TooFewData {
			t.Errorf("%s: %v", by, err)
		}
	}
}
