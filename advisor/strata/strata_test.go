package strata_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/strata"
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

// twoSides is a region of two halves: sand under clay in the west, rock in the east.
func twoSides(n int) (logs []strata.Log, x []float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range n {
		at := rng.Float64() * 20000
		clay := 3 + 4*rng.Float64()
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

func fit(t *testing.T, logs []strata.Log, x []float64) (*strata.Model, strata.Report) {
	t.Helper()
	m, report, err := strata.Fit(logs, func(i int) []strata.Near { return nearest(logs, x, x[i], i) })
	if err != nil {
		t.Fatal(err)
	}
	return m, report
}

func at(m *strata.Model, logs []strata.Log, x []float64, p float64) strata.Mixture {
	var near []strata.Log
	var dist []float64
	for _, n := range nearest(logs, x, p, -1) {
		near, dist = append(near, n.Log), append(dist, n.DistanceM)
	}
	return m.At(near, dist)
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
	got, want := at(m, logs, x, 1e7).Odds, m.Profile()
	for i := range got {
		for k := range got[i] {
			if math.Abs(got[i][k]-want[i][k]) > 1e-12 { // the weights are exp(-250) at most
				t.Fatalf("cell %d class %d: %v, profile %v", i, k, got[i][k], want[i][k])
			}
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
	rng := rand.New(rand.NewPCG(3, 4))
	rock := func(refused bool) int {
		n := 0
		for range 500 {
			c := m.Complete(strata.Log{Cells: column(soil.Topsoil, 1.0, soil.Clay, 4.0), Refused: refused}, rng)
			if k := c[10]; k == soil.Rock || k == soil.FracturedRock || k == soil.Hardpan || k == soil.WeatheredRock {
				n++
			}
		}
		return n
	}
	if refused, open := rock(true), rock(false); refused <= 2*open {
		t.Errorf("hard ground just below the end: %d of 500 after a refusal, %d otherwise", refused, open)
	}
}

func TestCompleteKeepsTheLog(t *testing.T) {
	logs, x := twoSides(40)
	m, _ := fit(t, logs, x)
	rng := rand.New(rand.NewPCG(5, 6))
	for _, log := range logs {
		c := m.Complete(log, rng)
		for i, class := range log.Cells {
			if class != soil.Unknown && c[i] != class {
				t.Fatalf("cell %d: %v, log says %v", i, c[i], class)
			}
		}
		for i, class := range c {
			if class == soil.Unknown {
				t.Fatalf("cell %d left unknown", i)
			}
		}
	}
}

// The mean of many completed columns must be the odds that were stated.
func TestSamplesAgreeWithOdds(t *testing.T) {
	logs, x := twoSides(40)
	m, _ := fit(t, logs, x)
	log := strata.Log{Cells: column(soil.Topsoil, 1.0, soil.Clay, 2.0)}
	want := m.At([]strata.Log{log}, []float64{0})
	const n = 20000
	rng := rand.New(rand.NewPCG(7, 8))
	counts := map[soil.Class]float64{}
	for range n {
		counts[m.Complete(log, rng)[20]]++
	}
	profile := m.Profile()
	for _, k := range soil.Known() {
		share := (counts[k]/n + want.Regional*profile[20][k-1]) / (1 + want.Regional)
		if se := math.Sqrt(0.25 / n); math.Abs(share-want.Odds[20][k-1]) > 4*se {
			t.Errorf("%s at 10 m: sampled %.4f, stated %.4f", k, share, want.Odds[20][k-1])
		}
	}
}

func TestTooFewLogs(t *testing.T) {
	_, _, err := strata.Fit(make([]strata.Log, 100), func(int) []strata.Near { return nil })
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
	if w := m.At([]strata.Log{deep}, []float64{0}).Weights[0]; w != 0 {
		t.Errorf("a log of nothing weighs %v", w)
	}
}

// Where all logs are alike no distance is too far: the range is the longest there is.
func TestLogsAllAlike(t *testing.T) {
	logs, x := twoSides(40)
	for i := range logs {
		logs[i] = strata.Log{Cells: column(soil.Clay, 3.0, soil.Sand, 12.0)}
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
	m, _, err := strata.Fit(logs, func(i int) []strata.Near { return nearest(logs, x, x[i], i) })
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		m.At(logs[:24], x[:24])
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
