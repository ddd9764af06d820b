package intake_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"
)

const remarks = `{"name": "n", "dataset": "d", "tables": [
  {"file": "b.csv", "kind": "bores", "key": ["no"], "fields": {"code": {"column": "no"}}},
  {"file": "l.csv", "kind": "layers", "key": ["no"], "fields": {
    "top": {"column": "from", "unit": "ft"}, "base": {"column": "to", "unit": "ft"}, "words": {"column": "what"}}}%s]}`

func layersOf(t *testing.T, mapping, rows string) (geo.Bore, intake.Summary) {
	t.Helper()
	bag, got := readAll(t, load(t, mapping), files("b.csv", "no\n1\n", "l.csv", "no,from,to,what\n"+rows, "s.csv", "no,z\n1,3\n"))
	b, _ := bag.Bore("1")
	return b, got
}

// A depth in the words is taken in the unit of the words, else in that of the table, and
// only where it lies in the layer.
func TestWaterRemarksBecomeStrikes(t *testing.T) {
	rows := "1,0,30,clay\n1,30,60,wet from 54\n1,60,90,sand water at 60 ft and at 25 m\n1,90,100,water supply\n1,100,110,gravel water at 300\n"
	b, _ := layersOf(t, fmt.Sprintf(remarks, ""), rows)
	var depths []string
	for _, s := range b.Strikes {
		depths = append(depths, fmt.Sprintf("%.3f", s.DepthM))
	}
	if got := strings.Join(depths, " "); got != "16.459 18.288 25.000 27.432" {
		t.Errorf("strikes at %s", got)
	}
	mapped := fmt.Sprintf(remarks, `,{"file": "s.csv", "kind": "strikes", "key": ["no"], "fields": {"depth": {"column": "z", "unit": "m"}}}`)
	if b, _ := layersOf(t, mapped, rows); len(b.Strikes) != 1 || b.Strikes[0].DepthM != 3 {
		t.Errorf("a mapped table of strikes is not the only source: %v", b.Strikes)
	}
}

func TestDittoTakesTheLayerAbove(t *testing.T) {
	b, got := layersOf(t, fmt.Sprintf(remarks, ""), "1,0,10,sable argileux\n1,10,20,as above\n1,20,30,\"\"\"\"\n1,40,50,idem\n")
	if len(b.Layers) != 4 {
		t.Fatalf("%+v", b.Layers)
	}
	for i, want := range []soil.Class{soil.Sand, soil.Sand, soil.Sand, soil.Unknown} {
		if b.Layers[i].Class != want {
			t.Errorf("layer %d: %v, want %v", i, b.Layers[i].Class, want)
		}
	}
	if l := b.Layers; !l[1].Clayey || !(l[2].Confidence < l[1].Confidence && l[1].Confidence < l[0].Confidence) {
		t.Errorf("certainty does not fall: %+v", l)
	}
	if len(got.Reasons) == 0 {
		t.Error("a ditto after a gap is not reported")
	}
}

// Colour and hardness are taken from the words, which stay as they were; columns of their own win.
func TestColourAndHardnessOfALayer(t *testing.T) {
	b, _ := layersOf(t, fmt.Sprintf(remarks, ""), "1,0,10,Stiff red clay\n1,10,20,as above\n1,20,30,sand\n")
	for i, want := range []geo.Layer{{Words: "Stiff red clay", Colour: "red", Hardness: "stiff"}, {Words: "as above", Colour: "red", Hardness: "stiff"}, {Words: "sand"}} {
		if l := b.Layers[i]; l.Words != want.Words || l.Colour != want.Colour || l.Hardness != want.Hardness {
			t.Errorf("layer %d: %+v", i, l)
		}
	}
	mapped := strings.Replace(fmt.Sprintf(remarks, ""), `"words": {"column": "what"}`,
		`"words": {"column": "what"}, "colour": {"column": "tint"}, "hardness": {"column": "feel"}`, 1)
	bag, _ := readAll(t, load(t, mapped), files("b.csv", "no\n1\n", "l.csv", "no,from,to,what,tint,feel\n1,0,9,red clay,5YR 4/6,\n"))
	b, _ = bag.Bore("1")
	if l := b.Layers[0]; l.Colour != "5YR 4/6" || l.Hardness != "" {
		t.Errorf("%+v", l)
	}
}

func TestSummaryCountsUnreadWords(t *testing.T) {
	rows := "1,0,1,plugh clay\n1,1,2,xyzzy\n1,2,3,xyzzy sand\n"
	_, got := layersOf(t, fmt.Sprintf(remarks, ""), rows)
	if fmt.Sprint(got.Unread) != "[{xyzzy 2} {plugh 1}]" {
		t.Errorf("unread %v", got.Unread)
	}
	words, err := soil.NewReader(strings.NewReader(string(soil.Words())), strings.NewReader("xyzzy,en,main,gravel,,,0.9\n"))
	if err != nil {
		t.Fatal(err)
	}
	var bag intake.Memory
	m := load(t, fmt.Sprintf(remarks, ""))
	got, err = intake.ReadWith(context.Background(), intake.Known{Words: words}, m, files("b.csv", "no\n1\n", "l.csv", "no,from,to,what\n"+rows), &bag, nil)
	if b, _ := bag.Bore("1"); err != nil || len(got.Unread) != 1 || b.Layers[1].Class != soil.Gravel {
		t.Errorf("%v: a trainer's word is not read: %v", err, got.Unread)
	}
}
