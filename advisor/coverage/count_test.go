package coverage_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// east is a position so many metres east of 0 N 0 E along the equator, where a degree is
// a circle of the ellipsoid's axis, 6,378,137 m, over 360.
func east(metres float64) coord.LonLat {
	return coord.LonLat{Lon: metres / (2 * math.Pi * 6378137 / 360)}
}

func prepared(t testing.TB, villages []coverage.Village, points []coverage.Point, farM float64) *coverage.Land {
	t.Helper()
	l, err := coverage.Prepare(context.Background(), villages, points, farM)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func counted(t testing.TB, l *coverage.Land, a coverage.Ask) *coverage.Count {
	t.Helper()
	c, err := l.Count(a)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func working(on geo.Date) []coverage.Visit { return []coverage.Visit{{On: on, Works: true}} }

// A line of villages and two pumps for 250 people each, worked by hand. near (200) lies
// 50 m from p1, mid (150) 100 m from p1 and 250 m from p2, far (300) 300 m from p2:
// near takes 200 of p1, mid its last 50 and then 100 of p2, far the last 150 of p2.
func TestNearestFirstByHand(t *testing.T) {
	on := day(t, "2020-06-15")
	villages := []coverage.Village{
		{ID: "near", District: "a", At: east(-50), People: geo.Some(200)},
		{ID: "mid", District: "a", At: east(100), People: geo.Some(150)},
		{ID: "far", District: "b", At: east(650), People: geo.Some(300)},
		{ID: "beyond", District: "b", At: east(2000), People: geo.Some(80)},
		{ID: "by-the-broken", District: "b", At: east(-900), People: geo.Some(10)},
		{ID: "uncounted", District: "c", At: east(0)},
	}
	points := []coverage.Point{
		{ID: "p1", Kind: geo.TubeWell, At: east(0), Visits: working(on), DryMonths: geo.Some(geo.MonthSet(0))},
		{ID: "p2", Kind: geo.TubeWell, At: east(350), Visits: working(on)},
		{ID: "p3", Kind: geo.TubeWell, At: east(-1000), Visits: []coverage.Visit{{On: on, Works: false}}},
	}
	c := counted(t, prepared(t, villages, points, 1000), coverage.Ask{Standard: standard(t, "norm-mw"), On: on})
	var got []string
	for _, v := range c.Villages {
		line := fmt.Sprintf("%s %d+%d %s", v.ID, v.Served, v.Unserved, strings.TrimPrefix(string(v.Why), "coverage."))
		for _, take := range v.From {
			line += fmt.Sprintf(" %s:%d@%.0f", take.Point, take.People, take.DistanceM)
		}
		got = append(got, line)
	}
	want := []string{
		"beyond 0+80 none-near",
		"by-the-broken 0+10 none-counts",
		"far 150+150 full p2:150@300",
		"mid 150+0  p1:50@100 p2:100@250",
		"near 200+0  p1:200@50",
		"uncounted 0+0 ",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if c.Served.N != 500 || c.Living.N != 740 || !slices.Equal(c.Served.Villages, []string{"far", "mid", "near"}) || !slices.Equal(c.Served.Points, []string{"p1", "p2"}) {
		t.Errorf("served %+v of %+v", c.Served, c.Living)
	}
	if share := coverage.Share(c.Served, c.Living); math.Abs(share.Or(0)-500.0/740) > 1e-15 || coverage.Share(c.Served, coverage.People{}).Known() {
		t.Errorf("share %v", share)
	}
	if fmt.Sprint(c.Districts) != "[{a {350 [mid near] []} {350 [mid near] [p1 p2]}} {b {390 [beyond by-the-broken far] []} {150 [far] [p2]}}]" {
		t.Errorf("districts %v", c.Districts)
	}
	if fmt.Sprint(c.Out, c.PeopleUnknown, c.DryUnknown) != "[{coverage.broken [p3]}] [uncounted] [p2]" {
		t.Errorf("out %v, people unknown %v, dry unknown %v", c.Out, c.PeopleUnknown, c.DryUnknown)
	}
}

// Why a point does not count, one reason a case; and that the day asked about decides.
func TestWhyAPointDoesNotCount(t *testing.T) {
	sphere, basic := standard(t, "sphere-2018"), standard(t, "basic-1-km")
	seen := []coverage.Visit{{On: day(t, "2015-05"), Works: true}, {On: day(t, "2018-05-01"), Works: false}, {Works: false}}
	well := coverage.Point{Kind: geo.TubeWell, Built: built(t, "2014"), Visits: seen, DryMonths: geo.Some(geo.Months(10, 11))}
	dug := coverage.Point{Kind: geo.DugWell, Visits: working(geo.Date{})}
	covered, open := dug, dug
	covered.Protected, open.Protected = geo.Some(true), geo.Some(false)
	tested := well
	tested.Tests = []coverage.Test{{On: day(t, "2015-06-01"), Passed: false}, {On: day(t, "2016-06-01"), Passed: true}}
	for _, c := range []struct {
		name     string
		point    coverage.Point
		standard coverage.Standard
		on       string
		tested   bool
		want     geo.Code
	}{
		{"not built", well, sphere, "2013-12-31", false, coverage.NotBuilt},
		{"built, nobody looked but the one who gave no day", well, sphere, "2014-06-01", false, coverage.Broken},
		{"works", well, sphere, "2016-06-01", false, ""},
		{"dry then", well, sphere, "2016-10-01", false, coverage.DryThen},
		{"dry some month, month not asked", well, sphere, "2016", false, coverage.DryThen},
		{"broke", well, sphere, "2018-05-01", false, coverage.Broken},
		{"not tested", well, sphere, "2016-06-01", true, coverage.NotTested},
		{"test failed", tested, sphere, "2015-07-01", true, coverage.TestFailed},
		{"test passed", tested, sphere, "2016-07-01", true, ""},
		{"a dug well is taken", dug, sphere, "2020-01-01", false, ""},
		{"kind", coverage.Point{Kind: geo.Spring}, sphere, "2020-01-01", false, coverage.WrongKind},
		{"protection unknown", dug, basic, "2020-01-01", false, coverage.ProtectionUnknown},
		{"unprotected", open, basic, "2020-01-01", false, coverage.Unprotected},
		{"protected", covered, basic, "2020-01-01", false, ""},
		{"not visited", coverage.Point{Kind: geo.TubeWell}, sphere, "2020-01-01", false, coverage.NotVisited},
	} {
		c.point.ID = "p"
		count := counted(t, prepared(t, nil, []coverage.Point{c.point}, 1000),
			coverage.Ask{Standard: c.standard, On: day(t, c.on), Tested: c.tested})
		if got := count.Points[0].Out; got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	unvisited := coverage.Point{ID: "p", Kind: geo.TubeWell}
	count := counted(t, prepared(t, nil, []coverage.Point{unvisited}, 1000), coverage.Ask{Standard: sphere, On: day(t, "2020"), TakeUnvisited: true})
	if count.Points[0].Out != "" {
		t.Errorf("taken as working: %q", count.Points[0].Out)
	}
}

// Yield limits people: 0.1 L/s over 8 hours at 15 L is 192; a strong well is held to the norm.
func TestCapacity(t *testing.T) {
	for _, c := range []struct {
		code  string
		yield geo.Opt[float64]
		want  geo.Opt[int]
	}{
		{"sphere-2018", geo.Opt[float64]{}, geo.Some(500)},
		{"sphere-2018", geo.Some(0.1), geo.Some(192)},
		{"sphere-2018", geo.Some(0.25), geo.Some(480)},
		{"sphere-2018", geo.Some(3.0), geo.Some(500)},
		{"sphere-2018", geo.Some(0.0), geo.Some(0)},
		{"basic-1-km", geo.Opt[float64]{}, geo.Opt[int]{}},
		{"basic-1-km", geo.Some(0.25), geo.Some(360)},
		{"norm-mw", geo.Some(0.01), geo.Some(250)}, // without litres a head yield limits nobody
	} {
		p := coverage.Point{ID: "p", Kind: geo.TubeWell, YieldLPS: c.yield, Visits: working(geo.Date{})}
		count := counted(t, prepared(t, nil, []coverage.Point{p}, 1000), coverage.Ask{Standard: standard(t, c.code), On: day(t, "2020-01-01")})
		if got := count.Points[0].Capacity; got != c.want {
			t.Errorf("%s with %v L/s: %v, want %v", c.code, c.yield, got, c.want)
		}
	}
}

// region makes villages and points over some square km, crowded enough to share.
func region(seed uint64, villages, points int, spanM float64) ([]coverage.Village, []coverage.Point) {
	rng := rand.New(rand.NewPCG(seed, 11))
	place := func() coord.LonLat {
		p := east(rng.Float64() * spanM)
		p.Lat = east(rng.Float64() * spanM).Lon
		return p
	}
	vs, ps := make([]coverage.Village, villages), make([]coverage.Point, points)
	for i := range vs {
		vs[i] = coverage.Village{ID: fmt.Sprintf("v%06d", i), District: fmt.Sprint("d", rng.IntN(4)), At: place(), People: geo.Some(20 + rng.IntN(600))}
	}
	for i := range ps {
		ps[i] = coverage.Point{ID: fmt.Sprintf("p%06d", i), Kind: geo.TubeWell, At: place(), DryMonths: geo.Some(geo.Months())}
		if rng.IntN(10) > 0 {
			ps[i].Visits = []coverage.Visit{{On: geo.Date{Year: 2010 + rng.IntN(10)}, Works: rng.IntN(4) > 0}}
		}
		if rng.IntN(3) == 0 {
			ps[i].YieldLPS = geo.Some(rng.Float64() * 0.4)
		}
	}
	return vs, ps
}

// bruteServed measures every pair, sorts, and shares: the rule without index or packing.
func bruteServed(villages []coverage.Village, c *coverage.Count, points []coverage.Point, walkM float64) map[string]int {
	type pair struct {
		d    float64
		v, p string
	}
	var pairs []pair
	left, need := map[string]int{}, map[string]int{}
	for _, p := range c.Points {
		if p.Out == "" {
			left[p.ID] = p.Capacity.Or(math.MaxInt32)
		}
	}
	for _, v := range villages {
		need[v.ID] = v.People.Or(0)
		for _, p := range points {
			if d := coord.DistanceM(v.At, p.At); d <= walkM {
				pairs = append(pairs, pair{d, v.ID, p.ID})
			}
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.v, b.v), cmp.Compare(a.p, b.p))
	})
	for _, x := range pairs {
		n := min(need[x.v], left[x.p])
		need[x.v], left[x.p] = need[x.v]-n, left[x.p]-n
	}
	served := map[string]int{}
	for _, v := range villages {
		served[v.ID] = v.People.Or(0) - need[v.ID]
	}
	return served
}

func sameServed(t *testing.T, c *coverage.Count, want map[string]int) {
	t.Helper()
	total := 0
	for _, v := range c.Villages {
		if v.Served != want[v.ID] {
			t.Errorf("%s: %d served, want %d", v.ID, v.Served, want[v.ID])
		}
		total += want[v.ID]
	}
	if c.Served.N != total {
		t.Errorf("%d served in all, want %d", c.Served.N, total)
	}
}

func TestCountAgainstBruteForce(t *testing.T) {
	for seed := range uint64(4) {
		villages, points := region(seed, 300, 200, 8000)
		l := prepared(t, villages, points, 1500)
		for _, code := range []string{"sphere-2018", "norm-ug"} {
			s := standard(t, code)
			c := counted(t, l, coverage.Ask{Standard: s, On: day(t, "2016")})
			sameServed(t, c, bruteServed(villages, c, points, s.WalkM))
		}
	}
}

// What sharing promises: nobody twice, no point over its capacity, no pair that would
// both rather have each other, at least half of what a maximal flow serves, and the same
// answer whatever the order of the records.
func TestSharingLaws(t *testing.T) {
	s := standard(t, "norm-mw")
	for seed := range uint64(20) {
		villages, points := region(seed, 40, 25, 2500)
		ask := coverage.Ask{Standard: s, On: day(t, "2016")}
		c := counted(t, prepared(t, villages, points, 1000), ask)
		checkShares(t, c)
		checkStable(t, c, villages, points, s.WalkM)
		most := maxServed(c, villages, points, s.WalkM)
		if c.Served.N > most || 2*c.Served.N < most {
			t.Errorf("seed %d: %d served, %d possible", seed, c.Served.N, most)
		}
		slices.Reverse(villages)
		slices.Reverse(points)
		if again := counted(t, prepared(t, villages, points, 1200), ask); !reflect.DeepEqual(again, c) {
			t.Errorf("seed %d: another order of records gives another answer", seed)
		}
	}
}

func checkShares(t *testing.T, c *coverage.Count) {
	t.Helper()
	byPoint := map[string]int{}
	for _, v := range c.Villages {
		sum := 0
		for _, take := range v.From {
			sum += take.People
			byPoint[take.Point] += take.People
		}
		if sum != v.Served || v.Served+v.Unserved != v.People.Or(0) || (v.Unserved > 0) != (v.Why != "") {
			t.Errorf("%+v", v)
		}
	}
	for _, p := range c.Points {
		if byPoint[p.ID] != p.Served || p.Served > p.Capacity.Or(0) {
			t.Errorf("%+v, %d taken", p, byPoint[p.ID])
		}
	}
}

// checkStable looks for a village with people left, or served farther away, near a point
// that has room or serves somebody from farther away.
func checkStable(t *testing.T, c *coverage.Count, villages []coverage.Village, points []coverage.Point, walkM float64) {
	t.Helper()
	room, farthest := map[string]bool{}, map[string]float64{}
	for _, p := range c.Points {
		room[p.ID] = p.Out == "" && p.Served < p.Capacity.Or(math.MaxInt32)
	}
	worst := map[string]float64{}
	for _, v := range c.Villages {
		for _, take := range v.From {
			farthest[take.Point] = max(farthest[take.Point], take.DistanceM)
			worst[v.ID] = max(worst[v.ID], take.DistanceM)
		}
		if v.Unserved > 0 {
			worst[v.ID] = math.Inf(1)
		}
	}
	for _, v := range villages {
		for _, p := range points {
			d := coord.DistanceM(v.At, p.At)
			if d <= walkM && d < worst[v.ID] && (room[p.ID] || d < farthest[p.ID]) {
				t.Errorf("%s and %s, %.0f m apart, would rather have each other", v.ID, p.ID, d)
			}
		}
	}
}

// maxServed is the most that any sharing serves: the maximum flow from villages through
// ways to points, by augmenting along shortest paths (Edmonds and Karp 1972).
func maxServed(c *coverage.Count, villages []coverage.Village, points []coverage.Point, walkM float64) int {
	n := len(villages) + len(points) + 2
	source, sink := n-2, n-1
	room := make([][]int, n)
	for i := range room {
		room[i] = make([]int, n)
	}
	capacity := map[string]int{}
	for _, p := range c.Points {
		if p.Out == "" {
			capacity[p.ID] = p.Capacity.Or(math.MaxInt32)
		}
	}
	for i, v := range villages {
		room[source][i] = v.People.Or(0)
		for j, p := range points {
			room[len(villages)+j][sink] = capacity[p.ID]
			if coord.DistanceM(v.At, p.At) <= walkM {
				room[i][len(villages)+j] = math.MaxInt32
			}
		}
	}
	total := 0
	for {
		from := make([]int, n)
		for i := range from {
			from[i] = -1
		}
		from[source] = source
		for queue := []int{source}; len(queue) > 0; queue = queue[1:] {
			for j := range n {
				if from[j] < 0 && room[queue[0]][j] > 0 {
					from[j] = queue[0]
					queue = append(queue, j)
				}
			}
		}
		if from[sink] < 0 {
			return total
		}
		push := math.MaxInt
		for j := sink; j != source; j = from[j] {
			push = min(push, room[from[j]][j])
		}
		for j := sink; j != source; j = from[j] {
			room[from[j]][j] -= push
			room[j][from[j]] += push
		}
		total += push
	}
}

// Coverage over time: a point is built, breaks, is mended.
func TestSeries(t *testing.T) {
	villages := []coverage.Village{{ID: "v", At: east(0), People: geo.Some(100)}}
	points := []coverage.Point{{ID: "p", Kind: geo.TubeWell, At: east(10), Built: built(t, "2012"), Visits: []coverage.Visit{
		{On: day(t, "2012-12-01"), Works: true}, {On: day(t, "2014-12-01"), Works: false}, {On: day(t, "2015-06-01"), Works: true},
	}}}
	var asks []coverage.Ask
	for year := 2011; year <= 2016; year++ {
		asks = append(asks, coverage.Ask{Standard: standard(t, "norm-mw"), On: geo.Date{Year: year, Month: 12, Day: 31}})
	}
	series, err := prepared(t, villages, points, 500).Series(asks)
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, c := range series {
		got = append(got, c.Served.N)
	}
	if !slices.Equal(got, []int{0, 100, 100, 0, 100, 100}) {
		t.Errorf("served at the end of each year: %v", got)
	}
}

func TestPrepareRefuses(t *testing.T) {
	v := coverage.Village{ID: "v", People: geo.Some(1)}
	p := coverage.Point{ID: "p"}
	far := coord.LonLat{Lon: 181}
	for _, c := range []struct {
		name     string
		villages []coverage.Village
		points   []coverage.Point
		farM     float64
		says     string
	}{
		{"village twice", []coverage.Village{v, v}, nil, 500, "coverage.village-twice id=v"},
		{"people negative", []coverage.Village{{ID: "v", People: geo.Some(-3)}}, nil, 500, "coverage.people-negative id=v value=-3"},
		{"village without ID", []coverage.Village{{}}, nil, 500, "coverage.no-id"},
		{"village off the globe", []coverage.Village{{ID: "v", At: far}}, nil, 500, "coverage.off-the-globe id=v"},
		{"point twice", nil, []coverage.Point{p, p}, 500, "coverage.point-twice id=p"},
		{"point without ID", nil, []coverage.Point{{}}, 500, "coverage.no-id"},
		{"point nowhere", nil, []coverage.Point{{ID: "p", At: coord.LonLat{Lat: math.NaN()}}}, 500, "coverage.off-the-globe id=p"},
		{"yield negative", nil, []coverage.Point{{ID: "p", YieldLPS: geo.Some(-0.5)}}, 500, "coverage.bad-yield id=p value=-0.5"},
		{"no distance", nil, nil, 0, "coverage.bad-distance value=0"},
	} {
		_, err := coverage.Prepare(context.Background(), c.villages, c.points, c.farM)
		refused(t, c.name, err, geo.Invalid, c.says)
	}
	l := prepared(t, []coverage.Village{v}, []coverage.Point{p}, 400)
	_, err := l.Count(coverage.Ask{Standard: standard(t, "norm-mw")})
	refused(t, "standard reaches farther", err, geo.Invalid, "coverage.too-far")
	_, err = l.Series([]coverage.Ask{{}})
	refused(t, "no standard", err, geo.Invalid, "coverage.Count")
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := coverage.Prepare(stopped, []coverage.Village{v}, []coverage.Point{p}, 400); err == nil {
		t.Error("a stopped preparation gave a land")
	}
	if c := counted(t, prepared(t, nil, nil, 500), coverage.Ask{Standard: standard(t, "norm-mw")}); c.Served.N != 0 || len(c.Districts) != 0 {
		t.Errorf("nothing at all: %+v", c)
	}
}
