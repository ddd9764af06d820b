package strata_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// column builds cells from class, metres pairs.
func column(parts ...any) []soil.Class {
	var cells []soil.Class
	for i := 0; i < len(parts); i += 2 {
		for range int(parts[i+1].(float64) / strata.CellM) {
			cells = append(cells, parts[i].(soil.Class))
		}
	}
	return cells
}

// twoSides is a region of two halves: sand under clay in the west, rock in the east. How thick
// the clay is, is luck, so that no two bores stand on one spot.
func twoSides(n int) (logs []strata.Log, x []float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	for len(x) < n {
		at := rng.Float64() * 20000
		clay := 3 + 4*rng.Float64()
		if slices.ContainsFunc(x, func(other float64) bool { return math.Abs(at-other) < 1000/float64(n) }) {
			continue
		}
		if at < 10000 {
			logs = append(logs, strata.Log{Cells: column(soil.Topsoil, 1.0, soil.Clay, clay, soil.Sand, 12.0)})
		} else {
			logs = append(logs, strata.Log{Cells: column(soil.Topsoil, 1.0, soil.WeatheredRock, clay, soil.Rock, 1.0), Refused: true})
		}
		x = append(x, at)
	}
	return logs, x
}

// nearest lists the 16 nearest on a line by plain sorting.
func nearest(logs []strata.Log, x []float64, at float64, skip int) []strata.Near {
	var out []strata.Near
	for i := range x {
		if i != skip {
			out = append(out, strata.Near{Log: logs[i], DistanceM: math.Abs(x[i] - at)})
		}
	}
	for i := range out {
		for j := i + 1; j < len(out); j++ {
			if out[j].DistanceM < out[i].DistanceM {
				out[i], out[j] = out[j], out[i]
			}
		}
	}
	return out[:min(16, len(out))]
}

func fit(t testing.TB, logs []strata.Log, x []float64) (*strata.Model, strata.Report) {
	t.Helper()
	m, report, err := strata.Fit(t.Context(), logs, around(logs, x))
	if err != nil {
		t.Fatal(err)
	}
	return m, report
}

func around(logs []strata.Log, x []float64) strata.Neighbours {
	return func(i int, beyondM float64) (out []strata.Near) {
		for _, n := range nearest(logs, x, x[i], i) {
			if n.DistanceM >= beyondM {
				out = append(out, n)
			}
		}
		return out
	}
}

func at(m *strata.Model, logs []strata.Log, x []float64, p float64) *strata.Statement {
	return m.At(nearest(logs, x, p, -1), nil)
}

func TestOddsAddUpToOne(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	for _, p := range []float64{0, 5000, 10000, 15000, 500000} {
		odds := at(m, logs, x, p).Odds
		for i, row := range odds {
			sum := 0.0
			for k, q := range row {
				if q < 0 || q > 1 {
					t.Fatalf("x %v cell %d class %d: probability %v", p, i, k, q)
				}
				sum += q
			}
			if math.Abs(sum-1) > 1e-12 { // rounding over a few hundred sums
				t.Errorf("x %v cell %d: odds add up to %v", p, i, sum)
			}
		}
	}
}

func TestFarFromLogsIsTheProfile(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	if m.At(nil, nil).Odds != m.Profile() {
		t.Error("without logs the statement is not the profile")
	}
	far := at(m, logs, x, 1e7)
	if far.Odds != m.Profile() || far.Regional != 1 {
		t.Errorf("10,000 km away the region's share is %v", far.Regional)
	}
	if m.At([]strata.Near{{Log: strata.Log{}, DistanceM: 0}, {Log: logs[0], DistanceM: math.Inf(1)}, {Log: logs[0], DistanceM: math.NaN()}}, nil).Odds != m.Profile() {
		t.Error("an empty log, or logs nowhere, change the statement")
	}
}

// Logs that were read before say what they say unread, by the model that read them and by
// another.
func TestReadLogsSayTheSame(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	other, _ := fit(t, logs[:40], x[:40])
	for _, p := range []float64{-3000, 10, 700} {
		near := nearest(logs, x, p, -1)
		read := make([]strata.Near, len(near))
		for i, n := range near {
			read[i] = m.Read(n.Log)
			read[i].DistanceM = n.DistanceM
		}
		if m.At(read, nil).Odds != m.At(near, nil).Odds || other.At(read, nil).Odds != other.At(near, nil).Odds {
			t.Errorf("at %v: logs read before say something else", p)
		}
	}
}

// Where many logs stand at the point and agree, the statement is what they say, up to
// what crews mistake for one another.
func TestBesideALogIsThatLog(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	log := strata.Log{Cells: column(soil.Topsoil, 1.0, soil.Clay, 4.0, soil.Gravel, 3.0)}
	var near []strata.Near
	for range 24 {
		near = append(near, strata.Near{Log: log})
	}
	odds := m.At(near, nil).Odds
	for i, class := range log.Cells {
		if p := odds[i][class-1]; p < 0.8 || p > 0.99 {
			t.Errorf("cell %d: %v has odds %.3f, all 24 logs say so", i, class, p)
		}
	}
	if one := m.At(near[:1], nil).Odds[12][soil.Gravel-1]; one <= m.Profile()[12][soil.Gravel-1] {
		t.Errorf("one log does not raise its class: %v", one)
	}
}

// At a bore the statement is that bore's own log, up to what crews mistake for one another,
// whatever the others say; a log of the same spot that disagrees has its half.
func TestAtABoreIsItsLog(t *testing.T) {
	logs, x := twoSides(80)
	m, report := fit(t, logs, x)
	if report.Spot == 0 {
		t.Fatalf("%+v: no bore of this region speaks against its spot", report)
	}
	odd := strata.Log{Cells: column(soil.Gravel, 2.0, soil.Silt, 5.0, soil.Hardpan, 4.0)}
	for _, p := range []float64{2000, 9990, 17000} {
		near := append([]strata.Near{{Log: odd}}, nearest(logs, x, p, -1)...)
		s := m.At(near, nil)
		for i, class := range odd.Cells {
			if q := s.Odds[i][class-1]; q < 0.9 || q > 0.97 { // 0.95 is meant, a thirtieth the rest
				t.Errorf("x %v, cell %d: %v has odds %.3f at the bore that found it", p, i, class, q)
			}
		}
		other := strata.Log{Cells: column(soil.Clay, 11.0)}
		both := m.At(append([]strata.Near{{Log: other}}, near...), nil).Odds[8]
		if math.Abs(both[soil.Silt-1]-both[soil.Clay-1]) > 0.1 {
			t.Errorf("two logs of one spot: silt %.3f, clay %.3f", both[soil.Silt-1], both[soil.Clay-1])
		}
		near[0].DistanceM = 40
		if q := m.At(near, nil).Odds[8][soil.Silt-1]; q > 0.85 {
			t.Errorf("x %v: 40 m away the log still has odds %.3f", p, q)
		}
	}
}

// Where bores are set on one spot that stood elsewhere, a spot says nothing of its own.
func TestSpotsThatDisagree(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	var logs []strata.Log
	var x []float64
	for i := range 120 {
		classes := []soil.Class{soil.Clay, soil.Sand, soil.Gravel, soil.Silt, soil.Hardpan}
		logs = append(logs, strata.Log{Cells: column(classes[rng.IntN(5)], 6.0, classes[rng.IntN(5)], 6.0)})
		x = append(x, float64(i/3)*1000)
	}
	if _, report := fit(t, logs, x); report.Spot != 0 {
		t.Errorf("%+v, want no weight for a spot", report)
	}
}

// Logs that cannot be right do no harm: nothing but a refusal, a refusal at the model's
// floor, gaps all through, one cell.
func TestOddLogs(t *testing.T) {
	logs, x := twoSides(30)
	gaps := make([]soil.Class, 30)
	gaps[3], gaps[17] = soil.Clay, soil.Sand
	odd := []strata.Log{
		{Refused: true},
		{Cells: make([]soil.Class, 20), Refused: true},
		{Cells: column(soil.Rock, 40.0), Refused: true},
		{Cells: column(soil.Rock, 60.0), Refused: true},
		{Cells: gaps, Refused: true},
		{Cells: column(soil.Gravel, 0.5)},
	}
	for range odd {
		x = append(x, 9000)
	}
	m, _ := fit(t, append(logs, odd...), x)
	var near []strata.Near
	for _, log := range odd {
		near = append(near, strata.Near{Log: log, DistanceM: 3})
	}
	for z, row := range m.At(near, nil).Odds {
		sum := 0.0
		for _, p := range row {
			if !(p >= 0 && p <= 1) {
				t.Fatalf("cell %d: odds %v", z, row)
			}
			sum += p
		}
		if math.Abs(sum-1) > 1e-12 { // rounding over a few hundred sums
			t.Errorf("cell %d: odds add up to %v", z, sum)
		}
	}
}

func TestNearLogsBeatTheProfile(t *testing.T) {
	logs, x := twoSides(80)
	m, report := fit(t, logs, x)
	if report.LogScore > 0.6*report.Profile {
		t.Errorf("held-out score %.3f nats per cell, profile %.3f: the two halves are not told apart", report.LogScore, report.Profile)
	}
	if west := at(m, logs, x, 3000).Odds[16][soil.Sand-1]; west < 0.8 {
		t.Errorf("sand at 8 m in the west: %.2f, want at least 0.8", west)
	}
	if east := at(m, logs, x, 17000).Odds[16][soil.Sand-1]; east > 0.1 {
		t.Errorf("sand at 8 m in the east: %.2f, want at most 0.1", east)
	}
}

// A log that ends at a refusal goes on in ground that refuses bits; one that ends
// because water was found goes on as the region does.
func TestContinuationBelowTheEnd(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	rock := func(refused bool) float64 {
		log := strata.Log{Cells: column(soil.Topsoil, 1.0, soil.Clay, 4.0), Refused: refused}
		row := m.At([]strata.Near{{Log: log}}, nil).Odds[10]
		return row[soil.Rock-1] + row[soil.FracturedRock-1] + row[soil.Hardpan-1] + row[soil.WeatheredRock-1]
	}
	if refused, open := rock(true), rock(false); refused <= 1.5*open {
		t.Errorf("hard ground just below the end: %.3f after a refusal, %.3f otherwise", refused, open)
	}
}

// The mean of many drawn columns must be the odds that were stated, and the weights what
// is known.
func TestDrawsHaveTheOdds(t *testing.T) {
	logs, x := twoSides(40)
	m, _ := fit(t, logs, x)
	s := at(m, logs, x, 9900)
	const n = 4000
	drawn := s.Draw(n, rand.New(rand.NewPCG(7, 8)))
	var got strata.Odds
	total := 0.0
	for _, d := range drawn {
		total += d.Weight
		for i, class := range d.Column {
			got[i][class-1] += d.Weight / s.Logs
		}
	}
	if math.Abs(total-s.Logs) > 1e-9 { // a hundred thousand terms
		t.Errorf("weights add up to %v, want %v", total, s.Logs)
	}
	for i := range got {
		for k := range got[i] {
			if math.Abs(got[i][k]-s.Odds[i][k]) > 0.04 { // five standard errors of one part that is all
				t.Fatalf("cell %d class %d: drawn %.4f, stated %.4f", i, k+1, got[i][k], s.Odds[i][k])
			}
		}
	}
}

// A chain is drawn in proportion to its share: no column weighs more than twice the mean one
// unless its log is hardly heard.
func TestDrawsFollowTheShares(t *testing.T) {
	logs, x := twoSides(60)
	m, _ := fit(t, logs, x)
	s := at(m, logs, x, 9500)
	const most = 64
	drawn := s.Draw(most, rand.New(rand.NewPCG(3, 4)))
	of, weight := map[int]int{}, map[int]float64{}
	for _, d := range drawn {
		of[d.Near]++
		weight[d.Near] += d.Weight / s.Logs
	}
	for near, n := range of {
		if want := min(max(2*most*weight[near], 1), most); math.Abs(float64(n)-want) > 0.5+1e-9 {
			t.Errorf("log %d with a share of %.3f is drawn %d times", near, weight[near], n)
		}
	}
	if len(drawn) > 2*most+len(of) {
		t.Errorf("%d columns of %d chains", len(drawn), len(of))
	}
}

// Columns that are drawn together are closer to the odds (in the square, by two fifths) than those drawn
// one by one.
func TestDrawsAreEven(t *testing.T) {
	logs, x := twoSides(60)
	m, _ := fit(t, logs, x)
	s := at(m, logs, x, 1e7) // one chain, that of the region
	const n, times = 16, 200
	even, alone := 0.0, 0.0 // mean square errors of the share of sand, over all cells
	for i := range times {
		rng := rand.New(rand.NewPCG(uint64(i), 8))
		for _, of := range []struct {
			drawn []strata.Drawn
			sum   *float64
		}{{s.Draw(n, rng), &even}, {s.DrawBy(n, n, func(int, int) *rand.Rand { return rng }), &alone}} {
			var sand [strata.Cells]float64
			for _, d := range of.drawn {
				for z, class := range d.Column {
					if class == soil.Sand {
						sand[z] += d.Weight / s.Logs
					}
				}
			}
			for z := range sand {
				*of.sum += math.Pow(sand[z]-s.Odds[z][soil.Sand-1], 2)
			}
		}
	}
	if even > 0.6*alone {
		t.Errorf("drawn together the columns are off by %.4f, drawn one by one by %.4f (root mean square)",
			math.Sqrt(even/times/strata.Cells), math.Sqrt(alone/times/strata.Cells))
	}
}

func TestSharesAddUp(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	for _, p := range []float64{0, 9000, 15000, 40000} {
		s := at(m, logs, x, p)
		sum := s.Regional
		for i, share := range s.Shares {
			sum += share
			if i > 0 && share > s.Shares[i-1]+1e-12 {
				t.Errorf("x %v: log %d weighs more than a nearer one", p, i)
			}
		}
		if math.Abs(sum-1) > 1e-12 { // rounding over 17 terms
			t.Errorf("x %v: shares add up to %v", p, sum)
		}
	}
}

// A hole under way counts: layers seen make themselves certain and logs like them heavier,
// slow metres make hard ground likelier, water makes ground that gives water likelier.
func TestGivenTheHole(t *testing.T) {
	logs, x := twoSides(80)
	m, _ := fit(t, logs, x)
	before := at(m, logs, x, 10000)
	if got := before.Given(strata.Seen{}); difference(got.Odds, before.Odds) > 1e-12 { // the same sums in the same order, scaled
		t.Error("nothing seen changes the odds")
	}
	west := before.Given(strata.Seen{Classes: column(soil.Topsoil, 1.0, soil.Clay, 3.0)})
	east := before.Given(strata.Seen{Classes: column(soil.Topsoil, 1.0, soil.WeatheredRock, 3.0)})
	// Nineteen layers in twenty are clay where crews say so, one in forty where they have
	// weathered rock: naming it makes clay 38 times as likely against that.
	was, is := before.Odds[6][soil.Clay-1], west.Odds[6][soil.Clay-1]
	if times := is / (1 - is) / (was / (1 - was)); times < 20 || times > 38 {
		t.Errorf("clay that was seen has odds %.3f, %.1f times what they were", is, times)
	}
	sand := func(s *strata.Statement) float64 { return s.Odds[20][soil.Sand-1] }
	if !(sand(west) > sand(before) && sand(before) > sand(east)) {
		t.Errorf("sand at 10 m: %.3f under clay, %.3f before, %.3f under weathered rock", sand(west), sand(before), sand(east))
	}
	minutes := make([]geo.Opt[float64], 18)
	for i := 12; i < 18; i++ {
		minutes[i] = geo.Some(900.0)
	}
	slow := before.Given(strata.Seen{MinutesPerM: minutes})
	if slow.Odds[16][soil.Rock-1] <= before.Odds[16][soil.Rock-1] {
		t.Errorf("rock at 8 m after slow metres: %.3f, before %.3f", slow.Odds[16][soil.Rock-1], before.Odds[16][soil.Rock-1])
	}
	struck := before.Given(strata.Seen{StrikeM: geo.Some(6.2)})
	if struck.Odds[12][soil.Sand-1] <= before.Odds[12][soil.Sand-1] {
		t.Errorf("sand where water came in: %.3f, before %.3f", struck.Odds[12][soil.Sand-1], before.Odds[12][soil.Sand-1])
	}
}

func difference(a, b strata.Odds) (most float64) {
	for i := range a {
		for k := range a[i] {
			most = max(most, math.Abs(a[i][k]-b[i][k]))
		}
	}
	return most
}

// Where all logs agree, the likeliest column is theirs.
func TestLikeliest(t *testing.T) {
	logs, x := twoSides(40)
	for i := range logs {
		logs[i] = strata.Log{Cells: column(soil.Clay, 3.0, soil.Sand, 12.0)}
	}
	m, _ := fit(t, logs, x)
	for i, class := range at(m, logs, x, 5000).Likeliest() {
		if i < len(logs[0].Cells) && class != logs[0].Cells[i] {
			t.Fatalf("cell %d is %v, all logs have %v", i, class, logs[0].Cells[i])
		}
	}
}

// mingled is a region whose two kinds of ground lie mingled, told apart by the land alone:
// sand in low ground, rock in high. The second term of the land tells nothing.
func mingled(n int, known bool) (logs []strata.Log, x []float64) {
	rng := rand.New(rand.NewPCG(11, 12))
	logs, x = twoSides(n)
	for i := range logs {
		x[i] = 20000 * rng.Float64()
		height := 3 * rng.Float64()
		if logs[i].Refused {
			height = 20 + 20*rng.Float64()
		}
		if known {
			logs[i].Setting = strata.Setting{math.Log(height + 3), rng.NormFloat64()}
		}
	}
	return logs, x
}

// Where setting tells the ground and distance does not, settings are used, and a place is
// stated by the logs of its own kind.
func TestLayersFollowTheLand(t *testing.T) {
	logs, x := mingled(120, false)
	_, blind := fit(t, logs, x)
	logs, x = mingled(120, true)
	m, seeing := fit(t, logs, x)
	if blind.Apart != 0 || seeing.Apart == 0 || seeing.LogScore > 0.8*blind.LogScore {
		t.Errorf("with settings %+v, without %+v", seeing, blind)
	}
	near := nearest(logs, x, 10000, -1)
	for _, c := range []struct {
		heightM float64
		cell    int
		class   soil.Class
	}{{1, 18, soil.Sand}, {30, 6, soil.WeatheredRock}} {
		odds := m.At(near, strata.Setting{math.Log(c.heightM + 3), 0}).Odds[c.cell]
		if blind := m.At(near, nil).Odds[c.cell]; odds[c.class-1] < 0.7 || blind[c.class-1] > 0.7 {
			t.Errorf("%v m above the stream: %v has odds %.2f, %.2f where the land is not known", c.heightM, c.class, odds[c.class-1], blind[c.class-1])
		}
	}
}

// Land that tells nothing does no harm.
func TestLandThatTellsNothing(t *testing.T) {
	logs, x := twoSides(120)
	_, blind := fit(t, logs, x)
	rng := rand.New(rand.NewPCG(13, 14))
	for i := range logs {
		logs[i].Setting = strata.Setting{rng.NormFloat64(), rng.NormFloat64(), 7}
	}
	if _, seeing := fit(t, logs, x); seeing.LogScore > 1.05*blind.LogScore {
		t.Errorf("with settings at random %+v, without %+v", seeing, blind)
	}
}

// A cell of a class that does not exist is named.
func TestBadLogs(t *testing.T) {
	logs, x := twoSides(20)
	logs[7].Cells[3] = soil.Count + 1
	_, _, err := strata.Fit(t.Context(), logs, around(logs, x))
	if bad, ok := errors.AsType[*strata.ClassError](err); !ok || bad.Log != 7 || bad.Cell != 3 {
		t.Errorf("error %v, want that of log 7, cell 3", err)
	}
}

func TestTooFewLogs(t *testing.T) {
	_, _, err := strata.Fit(t.Context(), make([]strata.Log, 100), func(int, float64) []strata.Near { return nil })
	if !errors.Is(err, strata.ErrTooFewLogs) {
		t.Errorf("error %v, want ErrTooFewLogs", err)
	}
}

// A log that goes on below the model's depth is read down to it; one described only below
// says nothing.
func TestLogsBelowTheModel(t *testing.T) {
	logs, x := twoSides(20)
	for i := range logs {
		logs[i].Cells = column(soil.Clay, 50.0)
	}
	deep := strata.Log{Cells: append(make([]soil.Class, strata.Cells), soil.Rock)}
	m, report := fit(t, append(logs, deep), append(x, 10000))
	if report.Logs != len(logs) {
		t.Errorf("%d described logs, want %d", report.Logs, len(logs))
	}
	if w := m.At([]strata.Near{{Log: deep}}, nil).Shares[0]; w != 0 {
		t.Errorf("a log of nothing weighs %v", w)
	}
}

// Where all logs are alike no distance is too far: the range is the longest there is.
func TestLogsAllAlike(t *testing.T) {
	logs, x := twoSides(40)
	for i := range logs {
		logs[i] = strata.Log{Cells: column(soil.Clay, 15.0)}
	}
	if _, report := fit(t, logs, x); report.RangeM < 20000 {
		t.Errorf("range %v m among logs that are all alike", report.RangeM)
	}
}

// Where most logs are empty, the score is of those that are not.
func TestScoreAmongEmptyLogs(t *testing.T) {
	logs, x := twoSides(900)
	for i := range logs {
		if i%9 > 0 || i == 0 {
			logs[i].Cells = nil
		}
	}
	_, report := fit(t, logs, x)
	if report.Tried != report.Logs || !(report.LogScore < report.Profile) {
		t.Errorf("%+v, want every described log held out and near ones better than the profile", report)
	}
}

func BenchmarkAt(b *testing.B) {
	logs, x := twoSides(200)
	m, _ := fit(b, logs, x)
	near := nearest(logs, x, 9000, -1)
	near = append(near, near[:8]...) // 24, as an answer reads
	b.Run("statement", func(b *testing.B) {
		for b.Loop() {
			m.At(near, nil)
		}
	})
	b.Run("eight nearest", func(b *testing.B) {
		for b.Loop() {
			eightNearest(near)
		}
	})
}

// eightNearest is the baseline: shares of the eight nearest logs that reach each cell.
func eightNearest(near []strata.Near) (odds strata.Odds) {
	var seen [strata.Cells]int
	for _, n := range near {
		for i, class := range n.Log.Cells {
			if class != soil.Unknown && seen[i] < 8 {
				seen[i]++
				odds[i][class-1] += 0.125
			}
		}
	}
	return odds
}

func BenchmarkFit(b *testing.B) {
	logs, x := twoSides(400)
	for b.Loop() {
		fit(b, logs, x)
	}
}

func ExampleOdds_Layers() {
	var odds strata.Odds
	for i := range odds {
		class := soil.Clay
		if i >= 10 {
			class = soil.Sand
		}
		odds[i][class-1] = 1
	}
	for _, l := range odds.Layers() {
		fmt.Printf("%g-%g m %s\n", l.TopM, l.BaseM, l.Class)
	}
	// Output:
	// 0-5 m clay
	// 5-40 m sand
}

// Layers must join from the surface to the model's depth, each thick enough to be told
// apart, whatever the odds.
func TestLayersJoin(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		var odds strata.Odds
		for i := range odds {
			total := 0.0
			for k := range odds[i] {
				odds[i][k] = rng.ExpFloat64() * rng.ExpFloat64()
				if i > 0 && rng.Float64() < 0.9 {
					odds[i][k] = odds[i-1][k]
				}
				total += odds[i][k]
			}
			for k := range odds[i] {
				odds[i][k] /= total
			}
		}
		end := 0.0
		for i, l := range odds.Layers() {
			if l.TopM != end || (i > 0 && l.BaseM-l.TopM < 1) {
				t.Fatalf("layer %d is %+v after %v m", i, l, end)
			}
			if l.Class == l.Second || l.SecondChance > l.Chance || l.Chance > 1 {
				t.Fatalf("layer %d: %+v", i, l)
			}
			end = l.BaseM
		}
		if end != strata.Cells*strata.CellM {
			t.Fatalf("layers end at %v m", end)
		}
	}
}
