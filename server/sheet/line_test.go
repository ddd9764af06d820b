package sheet_test

import (
	"math"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// line is an invented line of 4.4 km to the east: a valley between two rises, with the
// layers known at three stations and the water at all but one.
func line() sheet.Line {
	out := sheet.Line{From: site, To: coord.LonLat{Lon: site.Lon + 0.04, Lat: site.Lat}, AsideM: 500, DeepM: 20}
	for i := range 9 {
		st := sheet.Station{AlongM: 550 * float64(i), GroundM: 24 + 8*math.Cos(float64(i)*math.Pi/4)}
		if i != 7 {
			st.Water = full().Water
		}
		if i%3 == 1 {
			st.Odds = odds()
		}
		out.Stations = append(out.Stations, st)
	}
	hole := func(name string, lon, lat, depth float64, outcome geo.Outcome, layers ...geo.Layer) {
		at := coord.LonLat{Lon: site.Lon + lon, Lat: site.Lat + lat}
		out.Bores = append(out.Bores, geo.Bore{
			Code: name, Position: geo.Some(coord.Reading{Pos: at}), Outcome: outcome, DepthM: geo.Some(depth), Layers: layers,
		})
	}
	clay := func(base float64) geo.Layer { return geo.Layer{BaseM: base, Class: soil.Clay} }
	hole("AV-1", 0.0100, 0.001, 12, geo.Producing, clay(4), geo.Layer{TopM: 4, BaseM: 12, Class: soil.Sand, Grade: soil.Coarse})
	hole("AV-2", 0.0112, 0.002, 9, geo.Dry, clay(9))
	hole("AV-3", 0.0280, 0.000, 60, geo.Refused, clay(6), geo.Layer{TopM: 6, BaseM: 25, Class: soil.WeatheredRock}, geo.Layer{TopM: 25, BaseM: 60, Class: soil.Rock})
	hole("AV-4", 0.0360, -0.003, 15, geo.LowYield)
	hole("too far aside", 0.0200, 0.006, 10, geo.Dry, clay(10))
	hole("beyond the end", 0.0500, 0.000, 10, geo.Dry, clay(10))
	out.Bores = append(out.Bores, geo.Bore{Code: "nowhere", Outcome: geo.Dry, Layers: []geo.Layer{clay(3)}})
	return out
}

func TestLineSection(t *testing.T) {
	c := catalogue(t)
	for _, l := range say.Langs() {
		scene, err := sheet.LineSection(c, l, line(), false)
		doc := svg(t, scene, err)
		slim, err := sheet.LineSection(c, l, line(), true)
		if svg(t, slim, err); slim.WidthMM > 100 {
			t.Errorf("%v: %v mm are slim", l, slim.WidthMM)
		}
		for _, want := range []string{"AV-1, ", "AV-2, ", "AV-3, ", "AV-4, ", c.Say(l, say.Msg("class.weathered-rock")), c.Say(l, say.Msg("class.sand-coarse")), c.Say(l, say.Msg("drawing.water-dry-low"))} {
			if !strings.Contains(doc, want) {
				t.Errorf("%v: the section lacks %q", l, want)
			}
		}
		for _, not := range []string{"too far aside", "beyond the end", "nowhere", "⟨"} {
			if strings.Contains(doc, not) {
				t.Errorf("%v: the section has %q", l, not)
			}
		}
		if l == say.EN {
			golden(t, "line.en.svg", doc)
		}
	}
}

// The list beside a section has every bore in it, from the line's start on; a degree of the
// equator is 111.3 km (WGS 84).
func TestBesideALine(t *testing.T) {
	got := line().Beside()
	if len(got) != 4 {
		t.Fatalf("%d bores", len(got))
	}
	for i, want := range []struct {
		name          string
		along, asideM float64
	}{{"AV-1", 1113, 111}, {"AV-2", 1247, 222}, {"AV-3", 3117, 0}, {"AV-4", 4007, 333}} {
		b := got[i]
		if b.Bore.Code != want.name || math.Abs(b.AlongM-want.along) > 5 || math.Abs(b.AsideM-want.asideM) > 2 {
			t.Errorf("%s at %v m, %v m aside, want %v", b.Bore.Code, b.AlongM, b.AsideM, want)
		}
	}
}

// Of hundreds of bores a drawing shows the nearest in each stretch and says so; the shapes
// with marks, of each of which a browser that prints makes a picture, stay few. They stand over
// 0.038 of the line's 0.04 degrees: 57 of 60 stretches.
func TestLineSectionAmongHundreds(t *testing.T) {
	l := line()
	for i := range 300 {
		at := coord.LonLat{Lon: site.Lon + 0.038*float64(i)/300, Lat: site.Lat + 0.001 + 0.00001*float64(i%7)}
		layers := []geo.Layer{{BaseM: 5, Class: soil.Clay}, {TopM: 5, BaseM: 9, Class: soil.Sand}}
		l.Bores = append(l.Bores, geo.Bore{Code: "H", Position: geo.Some(coord.Reading{Pos: at}), Outcome: geo.Producing, DepthM: geo.Some(9.0), Layers: layers})
	}
	scene, err := sheet.LineSection(catalogue(t), say.EN, l, false)
	doc := svg(t, scene, err)
	for _, words := range []string{"Bores: the nearest in each stretch, 57 of 304.", "AV-3, 0\u00a0m"} {
		if !strings.Contains(doc, words) {
			t.Errorf("the drawing lacks %q", words)
		}
	}
	if marked := strings.Count(doc, "fill=\"url(#"); marked > 60 {
		t.Errorf("%d shapes with marks", marked)
	}
}

func TestLineSectionRefuses(t *testing.T) {
	short := line()
	short.Stations = short.Stations[:1]
	nowhere := line()
	for i := range nowhere.Stations {
		nowhere.Stations[i].AlongM = 0
	}
	for name, bad := range map[string]sheet.Line{"one station": short, "no length": nowhere} {
		if _, err := sheet.LineSection(catalogue(t), say.EN, bad, false); err == nil {
			t.Errorf("%s was drawn", name)
		}
	}
}
