package trust_test

import (
	"math"
	"strconv"
	"testing"

	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/geo/outside"
)

// table reads a file of reference numbers made by testdata/reference/scripts/trust.R.
func table(t *testing.T, name string) (rows []map[string]float64, words []map[string]string) {
	t.Helper()
	words = outside.ReadTable(t, outside.Reference(t, "trust", name)).Rows
	for _, word := range words {
		row := map[string]float64{}
		for column, text := range word {
			row[column], _ = strconv.ParseFloat(text, 64) // the column of names stays 0
		}
		rows = append(rows, row)
	}
	return rows, words
}

func levelCases(t *testing.T) (out []trust.LevelCase) {
	rows, _ := table(t, "levels.csv")
	for _, r := range rows {
		if r["teller"] == 1 {
			out = append(out, trust.LevelCase{Case: trust.Case{Block: int(r["block"])}, FoundM: r["found"]})
		}
		var f trust.Forecast
		for i := range 11 {
			f = append(f, r["v"+strconv.Itoa(i+1)])
		}
		last := &out[len(out)-1]
		last.Said = append(last.Said, f)
	}
	return out
}

func layerCases(t *testing.T) (out []trust.LayerCase) {
	rows, _ := table(t, "layers.csv")
	for _, r := range rows {
		if r["teller"] == 1 && r["top"] == 0 {
			out = append(out, trust.LayerCase{Case: trust.Case{Block: int(r["block"])}})
		}
		c := &out[len(out)-1]
		if r["teller"] == 1 {
			c.Cells = append(c.Cells, trust.CellSaid{TopM: r["top"]})
		}
		cell := &c.Cells[int(2*r["top"])]
		cell.Odds, cell.Hit = append(cell.Odds, r["odds"]), append(cell.Hit, r["hit"] == 1)
	}
	return out
}

func outcomeCases(t *testing.T) (out []trust.OutcomeCase) {
	rows, _ := table(t, "outcomes.csv")
	for _, r := range rows {
		out = append(out, trust.OutcomeCase{
			Case: trust.Case{Block: int(r["block"])}, Works: r["works"] == 1, Said: []float64{r["p1"], r["p2"], r["p3"]},
		})
	}
	return out
}

// Every score agrees with R's own: means of sorted values, quantile(type = 5), glm and
// prop.test.
func TestScoresAgreeWithR(t *testing.T) {
	a := trust.Judge(trust.Cases{Levels: levelCases(t), Layers: layerCases(t), Outcomes: outcomeCases(t)})
	got := map[string]float64{}
	put := func(name string, m trust.Measure) {
		for i, s := range m.Standings {
			got[name+"/"+strconv.Itoa(i+1)] = s.Score
		}
	}
	for _, m := range a.Level.Measures {
		put(string(m.Code[len("score."):]), m)
	}
	for _, c := range a.Level.Coverage {
		got["held/"+strconv.Itoa(int(math.Round(100*c.Said)))] = c.Held
	}
	for _, b := range a.Layers.Bands {
		span := strconv.Itoa(int(b.TopM)) + "-" + strconv.Itoa(int(b.BaseM))
		put("log-"+span, b.Log)
		put("wrong-"+span, b.Wrong)
	}
	put("brier", a.Outcome.Brier)
	got["slope/1"] = a.Outcome.Slope.Or(trust.Interval{}).Mid
	for _, b := range a.Outcome.Reliability {
		if b.Said >= 0.8 && b.Said < 0.9 {
			got["bin-80-90/1"], got["bin-80-90/2"] = b.Range.Lo, b.Range.Hi
		}
	}
	rows, words := table(t, "scores.csv")
	const tol = 1e-9 // sums of some thousand terms; R wrote 15 digits or more
	for i, r := range rows {
		name := words[i]["score"] + "/" + words[i]["teller"]
		if v, ok := got[name]; !ok || math.Abs(v-r["value"]) > tol {
			t.Errorf("%s is %v, R has %v", name, v, r["value"])
		}
	}
	if len(rows) < 50 {
		t.Errorf("only %d reference numbers", len(rows))
	}
}

// With every case drawn the same, no difference can be told from another; and where one
// teller is worse by a constant, the interval is that constant.
func TestIntervalOfAConstant(t *testing.T) {
	var cases []trust.LevelCase
	for i := range 40 {
		cases = append(cases, trust.LevelCase{
			Case: trust.Case{Block: i / 4}, FoundM: 5,
			Said: []trust.Forecast{{6}, {8}, {6}, {5}, {7}},
		})
	}
	for _, m := range trust.Judge(trust.Cases{Levels: cases}).Level.Measures {
		for i, want := range []float64{0, 2, 0, -1, 1} {
			if i == 0 {
				continue
			}
			d, ok := m.Standings[i].Worse.Get()
			if !ok || math.Abs(d.Lo-want) > 1e-12 || math.Abs(d.Hi-want) > 1e-12 { // sums of ones
				t.Errorf("%s of %s: %+v, want %v", m.Code, m.Standings[i].Who, d, want)
			}
		}
	}
}

func TestTooFewIsSaid(t *testing.T) {
	cases := levelCases(t)
	small := trust.Judge(trust.Cases{Levels: cases[:20]}).Level
	for _, m := range small.Measures {
		if !m.TooFew || m.Standings[1].Worse.Known() {
			t.Errorf("%s: twenty cases in five blocks tell somebody apart", m.Code)
		}
	}
	if small.Coverage[0].Range.Known() {
		t.Error("a range of coverage from five blocks")
	}
	if a := trust.Judge(trust.Cases{}); a.Level != nil || a.Layers != nil || a.Outcome != nil {
		t.Error("an account of nothing")
	}
	same := outcomeCases(t)
	for i := range same {
		same[i].Works = true
	}
	if s := trust.Judge(trust.Cases{Outcomes: same}).Outcome.Slope; s != (geo.Opt[trust.Interval]{}) {
		t.Errorf("slope %+v where every bore worked", s)
	}
}

// Answering only where the advisor is sure must pay when its width says what it knows.
func TestAbstaining(t *testing.T) {
	var cases []trust.OutcomeCase
	for i := range 100 {
		sure := i%2 == 0
		c := trust.OutcomeCase{Case: trust.Case{Block: i / 10}, Works: i%4 < 2, Width: 0.6, NearestM: float64((i * 37) % 100), Said: []float64{0.5, 0.5, 0.5}}
		if sure {
			c.Width, c.Said[0] = 0.1, 0.1
			if c.Works {
				c.Said[0] = 0.9
			}
		}
		cases = append(cases, c)
	}
	curve := trust.Judge(trust.Cases{Outcomes: cases}).Outcome.Abstaining
	all, half := curve[0], curve[5]
	if math.Abs(all.ByWidth-all.ByDistance) > 1e-12 || math.Abs(all.ByWidth-0.13) > 1e-12 { // (0.01 + 0.25)/2
		t.Errorf("answering all: %+v, want 0.13 both ways", all)
	}
	if math.Abs(half.ByWidth-0.01) > 1e-12 || !(half.ByDistance > 0.05) {
		t.Errorf("answering half: %+v, want 0.01 by width", half)
	}
}
