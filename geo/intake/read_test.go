package intake_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"golang.org/x/text/encoding/charmap"
)

func load(t testing.TB, text string) intake.Mapping {
	t.Helper()
	m, err := intake.LoadMapping(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func files(pairs ...string) fstest.MapFS {
	out := fstest.MapFS{}
	for i := 0; i < len(pairs); i += 2 {
		out[pairs[i]] = &fstest.MapFile{Data: []byte(pairs[i+1])}
	}
	return out
}

func readAll(t testing.TB, m intake.Mapping, fsys fstest.MapFS) (*intake.Memory, intake.Summary) {
	t.Helper()
	bag := &intake.Memory{}
	got, err := intake.Read(context.Background(), m, fsys, bag, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got.Rows != got.Applied+got.Rejected {
		t.Errorf("%d rows are not %d applied and %d rejected", got.Rows, got.Applied, got.Rejected)
	}
	return bag, got
}

const joined = `{
  "dataset": "joined", "by": "office", "licence": "CC BY 4.0",
  "tables": [
    {"file": "layers.csv", "kind": "layers", "key": ["bore"], "fields": {
      "top": {"column": "from", "unit": "ft"}, "base": {"column": "to", "unit": "ft"},
      "words": {"column": "what"}, "minutesPerM": {"column": "min"}}},
    {"file": "bores.csv", "kind": "bores", "key": ["district", "no"], "position": {"kind": "pair", "pair": "at", "order": "lat-lon"},
      "fields": {"depth": {"column": "depth", "unitColumn": "unit"}, "method": {"fixed": "auger"},
        "yield": {"column": "q", "unit": "m3/h"}, "cost": {"column": "cost"}, "currency": {"fixed": "XAF"}}},
    {"file": "levels.csv", "kind": "levels", "key": ["bore"], "fields": {
      "level": {"column": "level", "unit": "cm"}, "date": {"column": "on"}, "reference": {"column": "ref", "unit": "cm"}}},
    {"file": "strikes.csv", "kind": "strikes", "key": ["bore"], "fields": {"depth": {"column": "z", "unit": "m"}}},
    {"file": "pipes.csv", "kind": "pipes", "key": ["bore"], "fields": {
      "kind": {"column": "k", "values": {"tube": "casing", "crépine": "screen"}},
      "top": {"column": "a", "unit": "m"}, "base": {"column": "b", "unit": "m"}, "diameter": {"column": "d", "unit": "in"}}},
    {"file": "fills.csv", "kind": "fills", "key": ["bore"], "fields": {
      "kind": {"column": "k"}, "top": {"column": "a", "unit": "m"}, "base": {"column": "b", "unit": "m"}}},
    {"file": "tests.csv", "kind": "tests", "key": ["bore"], "fields": {
      "kind": {"fixed": "bailer"}, "bail": {"column": "litres"}, "halfMinutes": {"column": "half"}}},
    {"file": "lab.csv", "kind": "samples", "key": ["bore"], "fields": {
      "analyte": {"column": "what", "values": {"As": "arsenic"}}, "value": {"column": "v"}, "unit": {"column": "u"}}},
    {"file": "wide.csv", "kind": "samples", "key": ["bore"], "fields": {"date": {"column": "on"}},
      "analytes": {"nitrate": {"column": "NO3", "unit": "mg/L", "basis": "NO3"}, "ec": {"column": "EC", "unit": "uS/cm"}}}
  ]
}`

func joinedFiles() fstest.MapFS {
	return files(
		"bores.csv", "district,no,at,depth,unit,q,cost\nN,1,\"0.25, 0.5\",60,ft,3.6,1500\nS,1,\"0.1 S, 0.2 E\",12,m,,\n",
		"layers.csv", "bore,from,to,what,min\nN / 1,0,10,topsoil,\nN / 1,10,60,sable argileux,30\nX / 9,0,5,clay,\n",
		"levels.csv", "bore,level,on,ref\nN / 1,650,2020-04-02,50\nS / 1,dry,2020-04-03,\nN / 1,sec,,\n",
		"strikes.csv", "bore,z\nN / 1,8\n",
		"pipes.csv", "bore,k,a,b,d\nN / 1,tube,0,14,4\nN / 1,Crépine,14,18,4\n",
		"fills.csv", "bore,k,a,b\nN / 1,pack,12,18\n",
		"tests.csv", "bore,litres,half\nN / 1,40,3\n",
		"lab.csv", "bore,what,v,u\nN / 1,As,<0.01,mg/L\nN / 1,gold,1,mg/L\nN / 1,As,,mg/L\n",
		"wide.csv", "bore,on,NO3,EC\nN / 1,2020-04-02,12,\nS / 1,2020-04-03,,\n",
	)
}

func TestReadJoinedTables(t *testing.T) {
	bag, got := readAll(t, load(t, joined), joinedFiles())
	if got.Bores != 2 || got.Rows != 18 || got.Rejected != 4 {
		t.Errorf("%+v", got)
	}
	b, _ := bag.Bore("N / 1")
	const tol = 1e-9 // double rounding of the feet
	if d := b.DepthM.Or(0); math.Abs(d-18.288) > tol || b.YieldLPS.Or(0) != 1 || b.Method != "auger" || b.Cost.Or(geo.Money{}) != (geo.Money{Amount: 1500, Currency: "XAF"}) {
		t.Errorf("%+v", b)
	}
	if at, ok := b.Position.Get(); !ok || at.Pos.Lon != 0.5 || at.Pos.Lat != 0.25 {
		t.Errorf("position %+v", b.Position)
	}
	if b.Source.File != "bores.csv" || b.Source.Row != 1 || b.Source.By != "office" || b.Source.Licence != "CC BY 4.0" {
		t.Errorf("source %+v", b.Source)
	}
	if l := b.Layers; len(l) != 2 || l[1].Class != soil.Sand || !l[1].Clayey || l[1].Words != "sable argileux" || l[1].MinutesPerM.Or(0) != 30 || math.Abs(l[1].TopM-3.048) > tol {
		t.Errorf("layers %+v", l)
	}
	rest := geo.Level{
		State: geo.LevelRest, DepthM: geo.Some(6.0), ReferenceM: geo.Some(0.5), Words: "650",
		On: geo.Some(geo.Date{Year: 2020, Month: 4, Day: 2}),
	}
	if len(b.Levels) != 2 || b.Levels[0] != rest || b.Levels[1].State != geo.LevelDryTo || b.Levels[1].DepthM != b.DepthM {
		t.Errorf("levels %+v", b.Levels)
	}
	if len(b.Pipes) != 2 || b.Pipes[1].Kind != geo.Screen || math.Abs(b.Pipes[0].DiameterMM.Or(0)-101.6) > tol {
		t.Errorf("pipes %+v", b.Pipes)
	}
	if len(b.Strikes) != 1 || len(b.Fills) != 1 || len(b.Tests) != 1 || b.Tests[0].BailL.Or(0) != 40 {
		t.Errorf("strikes %v, fills %v, tests %v", b.Strikes, b.Fills, b.Tests)
	}
	want := []geo.Sample{
		{Analyte: "arsenic", Unit: "mg/L", DetectionLimit: geo.Some(0.01)},
		{Analyte: "nitrate", Unit: "mg/L", Basis: "NO3", Value: geo.Some(12.0), On: geo.Some(geo.Date{Year: 2020, Month: 4, Day: 2})},
	}
	if diff := cmp.Diff(want, b.Samples, cmp.Comparer(func(a, b geo.Sample) bool { return a == b })); diff != "" {
		t.Error(diff)
	}
	wantIssues(t, bag, "issue.unmatched-parent", "issue.unknown-value", "issue.missing-value", "issue.missing-value")
}

// wantIssues checks the codes of all issues, in the order met.
func wantIssues(t *testing.T, bag *intake.Memory, codes ...string) {
	t.Helper()
	var got []string
	for _, i := range bag.Issues {
		got = append(got, string(i.Message.Code))
	}
	if diff := cmp.Diff(codes, got); diff != "" {
		t.Errorf("issues (-want +got):\n%s", diff)
	}
}

func TestSameFileGivesSameIDs(t *testing.T) {
	first, _ := readAll(t, load(t, joined), joinedFiles())
	second, _ := readAll(t, load(t, joined), joinedFiles())
	other, _ := readAll(t, load(t, strings.Replace(joined, `"joined"`, `"elsewhere"`, 1)), joinedFiles())
	for i := range first.Bores {
		id := first.Bores[i].ID
		if id != second.Bores[i].ID || id == other.Bores[i].ID {
			t.Errorf("ids %s, %s and in another data set %s", id, second.Bores[i].ID, other.Bores[i].ID)
		}
		// RFC 9562, section 5.5: names make version 5.
		if u, err := uuid.Parse(string(id)); err != nil || u.Version() != 5 || u.Variant() != uuid.RFC4122 {
			t.Errorf("%s: version %v, %v", id, u.Version(), err)
		}
	}
	if id := intake.BoreID("joined", "N / 1"); id != first.Bores[0].ID {
		t.Errorf("BoreID %s, read %s", id, first.Bores[0].ID)
	}
	if string(intake.VillageID("d", "k")) == string(intake.WaterPointID("d", "k")) {
		t.Error("a village and a water point of one key share an id")
	}
}

const places = `{
  "dataset": "places", "within": [-1, -1, 1, 1],
  "tables": [
    {"file": "p.csv", "kind": "villages", "key": ["id"], "delimiter": ";", "decimal": ",", "encoding": "cp850",
      "when": {"column": "sorte", "in": ["village"]},
      "position": {"kind": "lon-lat", "lon": "x", "lat": "y"},
      "fields": {"name": {"column": "nom"}, "people": {"column": "hab"}}},
    {"file": "p.csv", "kind": "water-points", "key": ["id"], "delimiter": ";", "decimal": ",", "encoding": "cp850",
      "when": {"column": "sorte", "in": ["puits"]},
      "position": {"kind": "projected", "east": "x", "north": "y", "crs": "UTM {zone}"},
      "fields": {"name": {"column": "nom"}, "kind": {"fixed": "dug-well"}, "depth": {"column": "prof", "unit": "m"},
        "works": {"column": "ok"}, "dryMonths": {"column": "sec"}, "visited": {"column": "date", "dates": ["dmy"]},
        "level": {"column": "niv", "unit": "m"}}}
  ]
}`

func TestReadPlaces(t *testing.T) {
	text := "id;sorte;nom;x;y;zone;hab;prof;ok;sec;date;niv\n" +
		"1;village;Côte d'Été;0,5;0,25;;320;;;;;\n" +
		"2;puits;École;500000;0;31N;;8,5;oui;février, mars;2/3/2021;6,4\n" +
		"3;village;;0,5;0,25;;1;;;;;\n" +
		"4;village;Loin;;;;1;;;;;\n" +
		"5;source;?;0,5;0,25;;;;;;;\n" +
		"1;village;Encore;0,5;0,25;;320;;;;;\n"
	coded, err := charmap.CodePage850.NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	bag, got := readAll(t, load(t, places), files("p.csv", coded))
	if len(bag.Villages) != 1 || bag.Villages[0].Name != "Côte d'Été" || bag.Villages[0].People.Or(0) != 320 {
		t.Errorf("villages %+v", bag.Villages)
	}
	if len(bag.WaterPoints) != 1 {
		t.Fatalf("water points %+v", bag.WaterPoints)
	}
	w := bag.WaterPoints[0]
	// The middle of zone 31 at the equator is 3 degrees east by definition of UTM.
	if math.Abs(w.Position.Pos.Lon-3) > 1e-9 || w.DepthM.Or(0) != 8.5 || !w.Works.Or(false) || w.DryMonths.Or(0) != geo.Months(time.February, time.March) {
		t.Errorf("water point %+v", w)
	}
	if len(w.Visits) != 1 || w.Visits[0].LevelM.Or(0) != 6.4 || w.Visits[0].On != (geo.Date{Year: 2021, Month: 3, Day: 2}) {
		t.Errorf("visits %+v", w.Visits)
	}
	wantIssues(t, bag, "issue.outside-boundary", "issue.missing-value", "issue.missing-position", "issue.unclaimed-row", "issue.village-twice")
	if got.Applied != 2 || got.Rejected != 4 {
		t.Errorf("%+v", got)
	}
}

const one = `{"dataset": "one", "tables": [{"file": "b.csv", "kind": "bores", "key": ["no"], "noKey": "whole-row",
  "missing": ["NA"],
  "position": {"kind": "lon-lat", "lon": "x", "lat": "y", "missing": ["0"], "datum": "Arc 1950", "precision": {"column": "pm", "unit": "m"}},
  "fields": {"depth": {"column": "d", "otherwise": "d2", "unit": "m", "missing": ["0"]}, "remarks": {"column": "note"},
    "strikes": {"column": "note", "part": "strike", "unit": "m"}, "screens": {"column": "note", "part": "screen", "unit": "ft"}}}]}`

func TestReadOneRowPerBore(t *testing.T) {
	bag, got := readAll(t, load(t, one), files("b.csv", "\xef\xbb\xbfno,x,y,pm,d,d2,note\n"+
		"7,30,-15,500,0,14,\"strike : 6, 9; screen : 10 - 20, 30 - 40\n second line\"\n"+
		"NA,0,0,,deep,,\n"+
		"8,30.12345,-15,,,,strike : 10,23\n"))
	b, _ := bag.Bore("7")
	if b.DepthM.Or(0) != 14 || len(b.Strikes) != 2 || b.Strikes[1].DepthM != 9 {
		t.Errorf("%+v", b)
	}
	if at, _ := b.Position.Get(); at.CRS != "Arc 1950" || at.Operation == "" || at.PrecisionM < 500 {
		t.Errorf("position %+v", at)
	}
	if len(b.Pipes) != 2 || math.Abs(b.Pipes[1].BaseM-12.192) > 1e-9 {
		t.Errorf("screens %+v", b.Pipes)
	}
	if bag.Bores[1].Remarks != "d: deep" || bag.Bores[1].DepthM.Known() {
		t.Errorf("text in a number column: %+v", bag.Bores[1])
	}
	wantIssues(t, bag, "issue.key-from-row", "issue.missing-position", "issue.text-in-number-column", "issue.wrong-column-count")
	if want := []intake.FieldCount{{Field: "bores.depth", N: 1}}; !cmp.Equal(want, got.Blanked) {
		t.Errorf("blanked %v", got.Blanked)
	}
}

var errFull = errors.New("disk full")

type fullSink struct{ intake.Memory }

func (*fullSink) AddBore(string, geo.Bore) error { return errFull }

func TestReadStops(t *testing.T) {
	m := load(t, one)
	good := "no,x,y,pm,d,d2,note\n" + strings.Repeat("1,30,-15,,,,\n", 3000)
	var bag intake.Memory
	if _, err := intake.Read(context.Background(), m, files(), &bag, nil); geo.KindOf(err) != geo.Invalid {
		t.Errorf("no file: %v", err)
	}
	_, err := intake.Read(context.Background(), m, files("b.csv", "no,x,lat\n"), &bag, nil)
	if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), "y") || !strings.Contains(err.Error(), "lat") {
		t.Errorf("columns missing: %v", err)
	}
	if _, err := intake.Read(context.Background(), m, files("b.csv", good), &fullSink{}, nil); !errors.Is(err, errFull) {
		t.Errorf("a full sink: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	stop := func(string, int) { cancel() }
	got, err := intake.Read(ctx, m, files("b.csv", good), &intake.Memory{}, stop)
	if !errors.Is(err, context.Canceled) || got.Rows != 1000 {
		t.Errorf("cancelled: %d rows, %v", got.Rows, err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add("no,x,y,pm,d,d2,note\n7,30,-15,500,0,14,strike : 6\n")
	f.Add("no,x,y,pm,d,d2,note\n\"7,30\n,,,\n\xff,0,,,,,\n")
	m, known := load(f, one), intake.Known{Words: soil.DefaultReader()}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<14 {
			return // longer than a row needs to be
		}
		var bag intake.Memory
		got, err := intake.ReadWith(context.Background(), known, m, files("b.csv", text), &bag, nil)
		if err != nil {
			return // no header, or not the columns
		}
		listed := map[int]bool{}
		for _, i := range bag.Issues {
			listed[i.Row] = listed[i.Row] || i.Severity == geo.Rejected
		}
		if got.Rows != got.Applied+got.Rejected || len(bag.Bores) != got.Applied || len(listed) < got.Rejected {
			t.Errorf("%+v with %d bores, %d rows listed", got, len(bag.Bores), len(listed))
		}
	})
}

const perLayer = `{"dataset": "per-layer", "tables": [{"file": "b.csv", "kind": "bores", "key": ["no"],
  "fields": {"depth": {"column": "depth", "unit": "m"}},
  "parts": [
    {"kind": "layers", "fields": {"top": {"column": "a", "unit": "m"}, "base": {"column": "b", "unit": "m"}, "words": {"column": "what"}}},
    {"kind": "strikes", "missing": ["-"], "fields": {"depth": {"column": "water", "unit": "m"}}}
  ]}]}`

func TestReadOneRowPerLayer(t *testing.T) {
	bag, got := readAll(t, load(t, perLayer), files("b.csv", "no,depth,a,b,what,water\n"+
		"1,10,0,4,clay,-\n"+
		"1,10,4,10,sand,5\n"+
		"1,10,4,10,sand,5\n"+ // the row again
		"2,8,0,,sand,\n"+ // a bore whose only layer has no base
		"2,9,0,8,sand,\n"+ // another depth: perhaps another bore
		"2,9,,,,\n"+ // nothing new
		"3,5,,,,\n")) // a bore without layers
	b1, _ := bag.Bore("1")
	b2, _ := bag.Bore("2")
	if len(bag.Bores) != 3 || len(b1.Layers) != 2 || len(b1.Strikes) != 1 || len(b2.Layers) != 1 || b2.DepthM.Or(0) != 8 {
		t.Errorf("%+v", bag.Bores)
	}
	if got.Applied != 5 || got.Rejected != 2 {
		t.Errorf("%+v", got)
	}
	var listed []string
	for _, i := range bag.Issues {
		if i.Message.Code != intake.MissingPosition {
			listed = append(listed, strings.TrimPrefix(string(i.Message.Code), "issue.")+" "+strings.Repeat("i", i.Row))
		}
	}
	want := []string{
		"duplicate-row iii", "missing-value iiii", "repeat-differs iiiii", "repeat-differs iiiiii", "duplicate-row iiiiii",
	}
	if diff := cmp.Diff(want, listed); diff != "" {
		t.Error(diff)
	}
}

func TestReadVisits(t *testing.T) {
	m := load(t, `{"dataset": "visits", "tables": [{"file": "w.csv", "kind": "water-points", "key": ["no"],
	  "position": {"kind": "lon-lat", "lon": "x", "lat": "y"},
	  "fields": {"visited": {"column": "on"}, "works": {"column": "works"}, "level": {"column": "level", "unit": "m"}}}]}`)
	bag, got := readAll(t, m, files("w.csv", "no,x,y,on,works,level\n"+
		"1,0.1,0.2,2021-05-01,no,4\n1,0.1,0.2,2019-05-01,yes,3\n1,0.1,0.2,2019-05-01,yes,3\n1,0.1,0.2,soon,,\n1,0.3,0.2,2022-01-01,yes,\n2,0,0,,yes,\n"))
	if len(bag.WaterPoints) != 2 || got.WaterPoints != 2 || got.Applied != 3 || got.Rejected != 3 {
		t.Fatalf("%+v, %+v", got, bag.WaterPoints)
	}
	if w := bag.WaterPoints[0]; len(w.Visits) != 2 || w.Visits[0].On.Year != 2019 || w.Works.Or(true) {
		t.Errorf("visits out of order, or not working as at the last: %+v", w)
	}
	if w := bag.WaterPoints[1]; len(w.Visits) != 0 || !w.Works.Or(false) {
		t.Errorf("a point nobody dated a visit to: %+v", w)
	}
	wantIssues(t, bag, "issue.visit-twice", "issue.bad-date", "issue.point-twice")
}

func ExampleRead() {
	mapping, err := intake.LoadMapping(strings.NewReader(`{"dataset": "example", "tables": [{
	  "file": "bores.csv", "kind": "bores", "delimiter": ";", "decimal": ",", "key": ["Code"],
	  "position": {"kind": "lon-lat", "lon": "Lon", "lat": "Lat"},
	  "fields": {"depth": {"column": "Prof", "unit": "m"}, "level": {"column": "Niveau", "unit": "m"}}}]}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	rows := "Code;Lon;Lat;Prof;Niveau\nF1;0,51;0,42;18,5;6\nF2;0,52;0,43;env. 20;jaillissant\n"
	var bag intake.Memory
	got, err := intake.Read(context.Background(), mapping, fstest.MapFS{"bores.csv": {Data: []byte(rows)}}, &bag, nil)
	fmt.Println(got.Rows, "rows,", got.Applied, "applied,", got.Rejected, "rejected", err)
	for _, i := range bag.Issues {
		fmt.Println(i.Row, i.Column, i.Read, i.Message.Code)
	}
	// Output:
	// 2 rows, 2 applied, 0 rejected <nil>
	// 2 Prof env. 20 issue.bad-number
	// 2 Niveau jaillissant issue.flowing
}
