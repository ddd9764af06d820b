package sheet_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

func bore() geo.Bore {
	return geo.Bore{
		Code: "AV-7", Outcome: geo.Producing, Method: "auger", DepthM: geo.Some(12.5), YieldLPS: geo.Some(0.3),
		Completed: geo.Some(geo.Date{Year: 2019, Month: 4}), Place: "Anse Verte",
		Layers: []geo.Layer{
			{TopM: 0, BaseM: 4, Class: 2, Words: "argile rouge ferme", Colour: "rouge", Hardness: "ferme", Confidence: 1},
			{TopM: 4, BaseM: 12.5, Class: 4, Words: "", Confidence: 1},
		},
		Strikes: []geo.Strike{{DepthM: 6}},
		Levels: []geo.Level{
			{State: geo.LevelRest, DepthM: geo.Some(5.4), On: geo.Some(geo.Date{Year: 2019, Month: 4, Day: 2})},
			{State: geo.LevelFlowing},
			{State: geo.LevelDryTo, DepthM: geo.Some(3.0)},
		},
	}
}

func record(t *testing.T, l say.Lang, f sheet.BoreFile) sheet.Record {
	t.Helper()
	r, err := sheet.NewRecord(catalogue(t), l, f, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func words(t sheet.Table) string {
	var out []string
	for _, row := range t.Rows {
		for _, c := range row {
			out = append(out, c.Words)
		}
	}
	return strings.ReplaceAll(strings.Join(append(append(out, t.Notes...), t.Missing), "|"), "\u00a0", " ")
}

func TestRecordDraws(t *testing.T) {
	for _, l := range say.Langs() {
		r := record(t, l, sheet.BoreFile{Bore: bore()})
		for _, d := range []sheet.Drawing{r.Wide, r.Narrow} {
			if !strings.Contains(string(d.SVG), "<svg") || strings.Contains(string(d.SVG), "⟨") {
				t.Errorf("%v: %s", l, d.SVG)
			}
		}
		if !strings.Contains(string(r.Wide.SVG), "argile rouge") {
			t.Errorf("%v: the words of the layers are missing", l)
		}
	}
}

// What is missing is said as missing, and no 0 stands for it.
func TestRecordOfNothing(t *testing.T) {
	r := record(t, say.EN, sheet.BoreFile{Bore: geo.Bore{Code: "AV-8", Outcome: geo.OutcomeUnknown, Method: geo.MethodUnknown}})
	if r.Wide.SVG != "" {
		t.Error("nothing was drawn to depth, and yet there is a drawing")
	}
	all := strings.Join([]string{words(r.Facts), words(r.Layers), words(r.Built), words(r.Water), words(r.Tests), words(r.Samples)}, "|")
	if strings.Contains(all, "0.0") || strings.Count(all, "not written") != 3 || !strings.Contains(all, "test before anyone drinks") {
		t.Errorf("%s", all)
	}
}

// Guideline values: WHO, Guidelines for drinking-water quality, as package geo holds them.
func TestRecordSamples(t *testing.T) {
	b := bore()
	b.Samples = []geo.Sample{
		{Analyte: "arsenic", Unit: "ug/L", Value: geo.Some(12.0)},
		{Analyte: "nitrate", Basis: "N", Unit: "mg/L", Value: geo.Some(10.0)}, // 44 mg/L as NO3
		{Analyte: "ph", Unit: "[pH]", Value: geo.Some(6.1)},
		{Analyte: "fluoride", Unit: "mg/L", DetectionLimit: geo.Some(2.0)}, // coarser than the value
		{Analyte: "gold", Unit: "mg/L", Value: geo.Some(1.0)},
	}
	got := record(t, say.EN, sheet.BoreFile{Bore: b}).Samples
	for i, want := range []string{"✗ above", "✓ within", "✗ below", "? cannot be judged", "? cannot be judged"} {
		if got.Rows[i][3].Words != want {
			t.Errorf("row %d: %q, want %q", i, got.Rows[i], want)
		}
	}
	for i, want := range []string{"≤ 10 µg/L, ", "≤ 11.3 mg/L N, "} { // 0.01 mg/L; 50 mg/L as nitrate are 11 as nitrogen
		if !strings.HasPrefix(got.Rows[i][2].Words, want) {
			t.Errorf("row %d is held against %q, want %q", i, got.Rows[i][2].Words, want)
		}
	}
	if !strings.HasPrefix(words(got), "arsenic|12 µg/L") || !strings.Contains(got.Rows[4][2].Words, "no value") {
		t.Errorf("%q", got.Rows)
	}
}

// Only the last change that stands can be taken back; what brought the record in cannot.
func TestRecordHistory(t *testing.T) {
	at := time.Date(2021, 3, 9, 14, 5, 0, 0, time.UTC)
	r := record(t, say.EN, sheet.BoreFile{Bore: bore(), History: []sheet.Deed{
		{Seq: 1, At: at, Did: "add", Batch: "x"},
		{Seq: 2, At: at, Who: "Ama", Did: "change"},
		{Seq: 3, At: at, Outside: true, Did: "change"},
		{Seq: 4, At: at, Did: "change", Undone: true},
	}})
	for i, want := range []struct {
		who      string
		may, out bool
	}{{"somebody at this computer", false, true}, {"another program; nobody knows who", true, false}, {"Ama", false, false}, {"somebody at this computer", false, false}} {
		if h := r.History[i]; h.Who != want.who+":" || h.May != want.may || h.Over != want.out || !strings.Contains(h.When, "14:05") {
			t.Errorf("entry %d: %+v", i, h)
		}
	}
}

// TestRecordIsDescribed holds record.md against what is written.
func TestRecordIsDescribed(t *testing.T) {
	told, err := os.ReadFile("record.md")
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(sheet.BoreFile{Hidden: true, History: []sheet.Deed{{Who: "a", Why: "b", Batch: "c", Told: []geo.Message{{Code: "d"}}}}})
	if err != nil {
		t.Fatal(err)
	}
	var whole map[string]any
	if err := json.Unmarshal(data, &whole); err != nil {
		t.Fatal(err)
	}
	for name := range whole {
		if !strings.Contains(string(told), "`"+name+"`") {
			t.Errorf("record.md does not describe %s", name)
		}
	}
	for name := range whole["history"].([]any)[0].(map[string]any) {
		if !strings.Contains(string(told), "history[]."+name+"`") && !strings.Contains(string(told), "`"+name+"`") {
			t.Errorf("record.md does not describe history[].%s", name)
		}
	}
}
