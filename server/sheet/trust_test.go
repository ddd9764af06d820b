package sheet_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"waterstrike/advisor"
	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// account is an invented report with every part: n cases of each kind in 20 squares.
func account(n int) trust.Report {
	rng := rand.New(rand.NewPCG(5, 6))
	r := trust.Report{
		Schema: trust.Schema, Snapshot: "1834", Bores: 3 * n, Asked: n, Rounds: 10, Options: trust.DefaultOptions(),
		Blocks:   trust.Blocks{Origin: coord.LonLat{Lon: 0.2, Lat: 0.2}, SideM: 5000, ReachM: 9000, Count: 20},
		DryHoles: trust.DryHoles{Count: 7, Below: 0.81},
		Unsaid:   trust.Unsaid{Count: 40, Worked: 24},
	}
	for i := range n {
		c := trust.Case{ID: geo.BoreID(rune('a' + i%26)), Label: "AV-" + string(rune('A'+i%26)), Block: i % 20}
		c.At = coord.LonLat{Lon: 0.045 * (float64(i%5) + rng.Float64()), Lat: 0.045 * (float64(i%20/5) + rng.Float64())}
		r.Cases.Levels = append(r.Cases.Levels, levelCase(c, rng))
		r.Cases.Layers = append(r.Cases.Layers, layerCase(c, rng))
		r.Cases.Outcomes = append(r.Cases.Outcomes, outcomeCase(c, rng))
	}
	r.Account = trust.Judge(r.Cases)
	r.Misses = misses()
	return r
}

func levelCase(c trust.Case, rng *rand.Rand) trust.LevelCase {
	middle := 6 + 4*rng.Float64()
	found := middle + 0.3 + 1.5*rng.NormFloat64()
	said := make(trust.Forecast, 100)
	for i := range said {
		said[i] = middle + 1.5*math.Sqrt2*math.Erfinv(2*(float64(i)+0.5)/100-1)
	}
	off := func(spread float64) trust.Forecast { return trust.Forecast{found + spread*rng.NormFloat64()} }
	return trust.LevelCase{Case: c, FoundM: found, Said: []trust.Forecast{said, off(3), off(2.2), off(2.5), off(1.2)}}
}

func layerCase(c trust.Case, rng *rand.Rand) trust.LayerCase {
	out := trust.LayerCase{Case: c}
	for i := range 30 {
		cell := trust.CellSaid{TopM: float64(i) / 2}
		for k := range 4 {
			odds := 0.2 + 0.6*rng.Float64() - 0.1*float64(k)
			cell.Odds, cell.Hit = append(cell.Odds, max(odds, 0.05)), append(cell.Hit, odds > 0.4)
		}
		out.Cells = append(out.Cells, cell)
	}
	return out
}

func outcomeCase(c trust.Case, rng *rand.Rand) trust.OutcomeCase {
	p := rng.Float64()
	return trust.OutcomeCase{
		Case: c, Method: "auger", Works: rng.Float64() < p, Said: []float64{p, 0.5, min(max(p+0.3*rng.NormFloat64(), 0), 1)},
		Width: 0.5 * rng.Float64(), NearestM: 3000 * rng.Float64(), Enough: rng.Float64() < 0.8,
	}
}

func misses() []trust.Miss {
	by := []advisor.EvidenceBore{
		{ID: "x", Label: "AV-2", DistanceM: 620, Outcome: geo.Dry, LevelM: geo.Some(4.2)},
		{ID: "00000000-0000-4000-8000-000000000009", Label: "00000000-0000-4000-8000-000000000009", DistanceM: 1480, Outcome: geo.Producing},
	}
	return []trust.Miss{
		{Kind: "miss.level", ID: "y", Label: "AV-9", Loss: 11, FoundM: geo.Some(18.4), SaidM: geo.Some(advisor.Range{P10: 3, P50: 4.6, P90: 7}), Evidence: by},
		{Kind: "miss.layers", ID: "z", Label: "AV-7", Loss: 4.21, Evidence: by[:1]},
		{Kind: "miss.outcome", ID: "y", Label: "AV-9", Loss: 0.74, Works: geo.Some(false), Chance: geo.Some(0.86), Method: "percussion", Evidence: by},
		{Kind: "miss.outcome", ID: "w", Label: "AV-8", Loss: 0.61, Works: geo.Some(true), Chance: geo.Some(0.22), Method: "auger"},
	}
}

// accounts are a full one, one that is too small to tell, one by time, and an empty one.
func accounts() map[string]trust.Report {
	newer := account(200)
	newer.Options.Split = trust.ByTime
	alone := account(200)
	alone.Options.Split = trust.ByBore
	return map[string]trust.Report{"full": account(200), "few": account(12), "time": newer, "bore": alone, "none": {Options: trust.DefaultOptions(), Rounds: 1}}
}

func TestTrustTextGolden(t *testing.T) {
	c := catalogue(t)
	for _, l := range say.Langs() {
		golden(t, "trust."+l.String()+".txt", sheet.NewTrust(c, l, account(200)).Text())
	}
	golden(t, "trustfew.en.txt", sheet.NewTrust(c, say.EN, account(12)).Text())
}

func TestTrustLeavesNothingUnsaid(t *testing.T) {
	c := catalogue(t)
	for name, r := range accounts() {
		for _, l := range say.Langs() {
			for _, line := range strings.Split(sheet.NewTrust(c, l, r).Text(), "\n") {
				if n := utf8.RuneCountInString(line); n > 80 {
					t.Errorf("%s, %v: %d characters in %q", name, l, n, line)
				}
				if i := strings.IndexAny(line, "⟨\u00a0\u202f–−’“”\t"); i >= 0 {
					t.Errorf("%s, %v: a gap or a character beyond plain text in %q", name, l, line)
				}
			}
			var b bytes.Buffer
			if err := sheet.TrustFile(&b, c, l, r); err != nil {
				t.Fatalf("%s, %v: %v", name, l, err)
			}
			for _, bad := range []string{"⟨", "NaN", "<script", "http://", "ZgotmplZ"} {
				if page := strings.ReplaceAll(b.String(), "http://www.w3.org/2000/svg", ""); strings.Contains(page, bad) {
					t.Errorf("%s, %v: %q in the page", name, l, bad)
				}
			}
		}
	}
}

func TestTrustSaysWhatIsTooSmall(t *testing.T) {
	c := catalogue(t)
	few := sheet.NewTrust(c, say.EN, account(12)).Text()
	for _, want := range []string{"Too few to tell who is better: 12 cases", "Boldness (slope): too few to tell"} {
		if !strings.Contains(few, want) {
			t.Errorf("%q is missing in\n%s", want, few)
		}
	}
	if strings.Contains(few, "no telling them apart") || strings.Contains(few, "beyond luck") {
		t.Errorf("twelve cases are judged:\n%s", few)
	}
	narrow := strings.Join(strings.Fields(sheet.NewTrust(c, say.EN, account(200)).Text()), " ")
	if !strings.Contains(narrow, "the scores may be too kind") {
		t.Error("squares narrower than the reach are not said")
	}
	none := sheet.NewTrust(c, say.EN, trust.Report{}).Text()
	if !strings.Contains(none, "Nothing could be compared") || strings.Contains(none, "0.000") {
		t.Errorf("an empty account:\n%s", none)
	}
}

// The words follow the intervals: a teller that is better beyond luck is named.
func TestTrustNamesWhoIsBetter(t *testing.T) {
	r := account(200)
	for i := range r.Cases.Levels {
		l := &r.Cases.Levels[i]
		l.Said[4] = trust.Forecast{l.FoundM} // plain kriging knows it exactly
	}
	r.Account = trust.Judge(r.Cases)
	text := strings.Join(strings.Fields(sheet.NewTrust(catalogue(t), say.EN, r).Text()), " ")
	for _, want := range []string{"beyond luck: Depth to water: plain kriging;", "plain kriging 0.00"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %.1500s", want, text)
		}
	}
}

func TestTrustDrawings(t *testing.T) {
	c := catalogue(t)
	for name, r := range accounts() {
		drawings, err := sheet.TrustDrawings(c, say.FR, r)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var names []string
		for _, d := range drawings {
			names = append(names, d.Name)
			var b bytes.Buffer
			if err := d.WriteSVG(&b); err != nil || strings.Contains(b.String(), "⟨") || strings.Contains(b.String(), "plot.") {
				t.Errorf("%s, %s: %v, or a word is missing", name, d.Name, err)
			}
			if empty := strings.Contains(b.String(), "Rien à tracer"); empty != (name == "none") {
				t.Errorf("%s, %s: says that there is nothing: %v", name, d.Name, empty)
			}
		}
		if got := strings.Join(names, " "); got != "found pit misses reliability abstaining" {
			t.Errorf("drawings %s", got)
		}
	}
}

// A bore with a wrong position is left off the map, and that is said.
func TestTrustMapLeavesOutWhatLiesFarOff(t *testing.T) {
	r := account(200)
	r.Cases.Levels[17].At = coord.LonLat{Lon: 8, Lat: 0.1}
	page, err := sheet.NewTrustPage(catalogue(t), say.EN, r)
	if err != nil {
		t.Fatal(err)
	}
	if caption := page.Parts[0].Drawings[2].Caption; !strings.HasSuffix(caption, "1 bore far from all others is left off the map: look at its position first.") {
		t.Errorf("caption %q", caption)
	}
	if page, err = sheet.NewTrustPage(catalogue(t), say.EN, account(200)); err != nil || strings.Contains(page.Parts[0].Drawings[2].Caption, "far from") {
		t.Errorf("a bore among the others is left out: %v", err)
	}
}
