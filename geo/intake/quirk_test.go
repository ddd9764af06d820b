package intake_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"
)

// quirks reads a small invented file of the shape of an open data set, by that set's own
// mapping.
func quirks(t *testing.T, set string) (*intake.Memory, intake.Summary) {
	t.Helper()
	m := mapping(t, filepath.Join("..", "..", "testdata", "mappings", set+".json"))
	var bag intake.Memory
	got, err := intake.Read(context.Background(), m, os.DirFS(filepath.Join("testdata", set)), &bag, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got.Rows != got.Applied+got.Rejected || got.Rows == 0 {
		t.Errorf("%+v", got)
	}
	return &bag, got
}

func codes(bag *intake.Memory, file string, row int) []geo.Code {
	var out []geo.Code
	for _, i := range bag.Issues {
		if i.File == file && i.Row == row {
			out = append(out, i.Message.Code)
		}
	}
	return out
}

// Dates day first, a misspelt column, NA and 0 for missing, levels from a reference above
// ground, tests in empty rows below their bore.
func TestMalawiQuirks(t *testing.T) {
	bag, got := quirks(t, "malawi-drilling")
	if len(bag.Bores) != 6 || got.Rejected != 0 {
		t.Fatalf("%d bores, %+v\n%v", len(bag.Bores), got, bag.Issues)
	}
	b := bag.Bores[0]
	if b.Completed.Or(geo.Date{}) != (geo.Date{Year: 2021, Month: 8, Day: 15}) || b.Outcome != geo.Producing || b.DepthM.Or(0) != 45 {
		t.Errorf("%+v", b)
	}
	if at, _ := b.Position.Get(); at.Pos.Lon != 0.25 || at.Pos.Lat != -0.5 {
		t.Errorf("longtude %+v", at)
	}
	if b := bag.Bores[1]; b.DepthM.Known() || len(b.Levels) != 0 || b.Outcome != geo.Failed {
		t.Errorf("0 and NA: %+v", b)
	}
	tested := bag.Bores[2]
	const rounding = 1e-9
	if len(tested.Levels) != 1 || math.Abs(tested.Levels[0].DepthM.Or(0)-11) > rounding || tested.Levels[0].ReferenceM.Or(0) != 0.5 {
		t.Errorf("11.5 m from a point 0.5 m up: %+v", tested.Levels)
	}
	if len(tested.Tests) != 3 || tested.Tests[0].Kind != geo.StepTest || tested.Tests[2].PumpingM.Or(0) != 16.2 || tested.Tests[2].RateLPS.Or(0) != 0.5 {
		t.Errorf("a test and two repeats below it: %+v", tested.Tests)
	}
	if len(bag.Bores[3].Tests) != 1 || len(bag.Bores[3].Samples) != 1 {
		t.Errorf("the next bore: %+v", bag.Bores[3])
	}
	if got := codes(bag, "boreholeforensicspumpingtest.csv", 4); !slices.Contains(got, intake.SampleOutOfRange) {
		t.Errorf("450 mS/cm is no fresh water: %v", got)
	}
	if flowing := bag.Bores[5]; len(flowing.Levels) != 1 || flowing.Levels[0].State != geo.LevelFlowing || flowing.Levels[0].On.Or(geo.Date{}) != (geo.Date{Year: 2024, Month: 4, Day: 13}) {
		t.Errorf("a flowing well, month first: %+v", flowing.Levels)
	}
}

// Months in a cell, a point at one spot twice, states in words.
func TestWaterpointQuirks(t *testing.T) {
	bag, got := quirks(t, "waterpoints")
	byName := map[string]geo.WaterPoint{}
	for _, w := range bag.WaterPoints {
		byName[w.Name] = w
	}
	autumn := geo.Months(time.September, time.October, time.November)
	if w := byName["11"]; w.DryMonths.Or(0) != autumn || w.Works.Or(true) || w.Users.Or(0) != 258 {
		t.Errorf("%+v", w)
	}
	if !slices.ContainsFunc(bag.WaterPoints, func(w geo.WaterPoint) bool { return len(w.Visits) == 2 }) {
		t.Error("the same spot twice is two visits to one point")
	}
	if got.Rejected != 2 { // no position; the same row again
		t.Errorf("%+v %v", got, bag.Issues)
	}
	if w := byName["3"]; w.Kind != geo.DugWell || w.Users.Known() {
		t.Errorf("888 for not known: %+v", w)
	}
}

// No coordinates: the place stays, and a village of that name is named when it is known.
func TestPlaceOnlyQuirks(t *testing.T) {
	bag, got := quirks(t, "uganda-luweero")
	if len(bag.Bores) != 3 || got.Rejected != 1 {
		t.Fatalf("%+v", got)
	}
	for _, b := range bag.Bores {
		if b.Position.Known() || b.Place == "" || b.YieldLPS.Known() {
			t.Errorf("%+v", b)
		}
	}
	if bag.Bores[1].DepthM.Known() {
		t.Error("a depth of 0 is none")
	}
	m := mapping(t, filepath.Join("..", "..", "testdata", "mappings", "uganda-luweero.json"))
	var placed intake.Memory
	known := intake.Known{Words: soil.DefaultReader(), Villages: villages("Anse", "Bora", "Zulmar")}
	if _, err := intake.ReadWith(context.Background(), known, m, os.DirFS("testdata/uganda-luweero"), &placed, nil); err != nil {
		t.Fatal(err)
	}
	var named []string
	for _, i := range placed.Issues {
		if i.Message.Code == intake.PlaceIsVillage {
			named = append(named, i.Message.String())
		}
	}
	want := []string{"issue.place-is-village value=ANSE village=Anse n=100", "issue.place-is-village value=Zumlar village=Zulmar n=90"}
	if !slices.Equal(named, want) {
		t.Errorf("%q", named)
	}
}

// Feet, a depth below ground beside one below the reference, levels above ground.
func TestCaliforniaQuirks(t *testing.T) {
	bag, got := quirks(t, "california-levels")
	b, _ := bag.Bore("7")
	if len(b.Levels) != 2 || math.Abs(b.Levels[0].DepthM.Or(0)-126*0.3048) > 1e-9 || b.Levels[1].State != geo.LevelFlowing {
		t.Errorf("%+v", b.Levels)
	}
	if math.Abs(b.DepthM.Or(0)-416*0.3048) > 1e-9 {
		t.Errorf("depth %v", b.DepthM)
	}
	// A reading while pumping is no level at rest; an empty one is listed, too.
	if got.Rejected != 2 {
		t.Errorf("%+v %v", got, bag.Issues)
	}
}

// The two older sets: text and 0 in number columns, comma decimals, notes of pairs; merged
// logs, missing bottoms, placeholder dates.
func TestSidamaQuirks(t *testing.T) {
	bag, _ := quirks(t, "ethiopia-sidama")
	b, _ := bag.Bore("W-1")
	if b.Levels[0].State != geo.LevelFlowing || b.YieldLPS.Known() || len(b.Pipes) != 2 || b.Started.Or(geo.Date{}).Day != 2 {
		t.Errorf("%+v", b)
	}
	if got := codes(bag, "boreholes.csv", 2); !slices.Contains(got, intake.DepthOutOfRange) || !slices.Contains(got, intake.BadDate) {
		t.Errorf("an outlier and a date nobody can read: %v", got)
	}
	if len(bag.WaterPoints) != 1 || bag.WaterPoints[0].Kind != geo.DugWell {
		t.Errorf("%+v", bag.WaterPoints)
	}
	if at, _ := bag.Bores[1].Position.Get(); at.PrecisionM < 500 {
		t.Errorf("a position flagged doubtful: %+v", at)
	}
}

func TestDarlingQuirks(t *testing.T) {
	bag, _ := quirks(t, "darling-floodplain")
	for row, want := range map[int]geo.Code{3: intake.LayerOverlap, 5: intake.MissingValue} {
		if got := codes(bag, "layers.csv", row); !slices.Contains(got, want) {
			t.Errorf("layers.csv, row %d: %v, want %s", row, got, want)
		}
	}
	a, _ := bag.Bore("1")
	deep, _ := bag.Bore("2")
	if a.Completed.Or(geo.Date{}) != (geo.Date{Year: 1951}) || deep.Completed.Known() || deep.DepthM.Or(0) != 880 {
		t.Errorf("%+v %+v", a.Completed, deep)
	}
	if n, _ := bag.Bore("3"); n.Position != a.Position {
		t.Error("nested pipes stand at one spot, as bores of their own")
	}
}

func villages(names ...string) []geo.Village {
	var out []geo.Village
	for i, n := range names {
		out = append(out, geo.Village{ID: intake.VillageID("test", n+strings.Repeat("'", i)), Name: n, Position: coord.Reading{}})
	}
	return out
}

func TestMatchPlace(t *testing.T) {
	list := villages("Côte d'Été", "Bora", "Bora", "Madluzin", "Novrido", "Novrida")
	for _, tt := range []struct {
		name       string
		at         int // -1: none
		confidence float64
	}{
		{"cote d ete", 0, 1},
		{"BORA", 1, 0.5},
		{"Madlzuin", 3, 0.9},
		{"Novrido", 4, 1},
		{"Novridu", 4, 0.45},
		{"Bore", -1, 0},
		{"Madluzin East", -1, 0},
		{"", -1, 0},
		{"Elsewhere", -1, 0},
	} {
		id, confidence := intake.MatchPlace(tt.name, list)
		want := geo.VillageID("")
		if tt.at >= 0 {
			want = list[tt.at].ID
		}
		if id != want || math.Abs(confidence-tt.confidence) > 1e-12 {
			t.Errorf("%q: %s %v, want %s %v", tt.name, id, confidence, want, tt.confidence)
		}
	}
}

// A key on the first row of a record only: the rows below go on with it, unless they say
// something of a record of their own.
func TestRowAbove(t *testing.T) {
	bag, got := readAll(t, load(t, `{"dataset": "above", "tables": [
	  {"file": "b.csv", "kind": "bores", "key": ["no"], "noKey": "row-above", "missing": ["NA"], "fields": {"depth": {"column": "depth", "unit": "m"}},
	   "parts": [{"kind": "layers", "fields": {"top": {"column": "a", "unit": "m"}, "base": {"column": "b", "unit": "m"}, "words": {"column": "what"}}}]},
	  {"file": "l.csv", "kind": "levels", "key": ["no"], "noKey": "row-above", "fields": {"level": {"column": "level", "unit": "m"}}}]}`),
		files("b.csv", "no,depth,a,b,what\n,,0,1,sand\n1,10,0,4,clay\nNA,NA,4,10,sand\n,12,0,3,sand\n2,9,,,\n,,0,9,clay\n",
			"l.csv", "no,level\n1,4\n,5\n2,6\n"))
	b1, _ := bag.Bore("1")
	b2, _ := bag.Bore("2")
	if len(b1.Layers) != 2 || len(b1.Levels) != 2 || len(b2.Layers) != 1 || len(b2.Levels) != 1 {
		t.Errorf("%+v %+v", b1, b2)
	}
	if got.Rejected != 2 || len(codes(bag, "b.csv", 3)) != 0 {
		t.Errorf("%+v %v", got, bag.Issues)
	}
}
