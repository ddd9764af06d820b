package welldesign_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// built records a design as a crew would that built it to the letter.
func built(s welldesign.Site, w welldesign.Well) geo.Bore {
	b := geo.Bore{ID: "b", Outcome: geo.Producing, DepthM: geo.Some(w.BottomM), Pipes: w.Pipes, Fills: w.Fills}
	for _, l := range s.Layers {
		b.Layers = append(b.Layers, geo.Layer{TopM: l.TopM, BaseM: l.BaseM, Class: l.Class, Grade: l.Grade, Clayey: l.Clayey})
	}
	b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(s.Water.NormalLowM)}}
	b.Tests = []geo.PumpTest{{Kind: geo.ConstantRate, RateLPS: geo.Some(0.3), Hours: geo.Some(3.0), RestM: geo.Some(s.Water.NormalLowM), PumpingM: geo.Some(s.Water.NormalLowM + 0.5)}}
	for _, analyte := range []string{"e-coli", "nitrate", "ec", "arsenic", "fluoride"} {
		b.Samples = append(b.Samples, geo.Sample{Analyte: analyte, Unit: map[string]string{"e-coli": "CFU/100mL", "ec": "uS/cm"}[analyte], Value: geo.Some(0.0)})
	}
	return b
}

func codes(r welldesign.AsBuilt) string {
	var out []string
	for _, i := range r.Issues {
		out = append(out, i.Message.String())
	}
	return strings.Join(out, "; ")
}

// What is designed passes the review, whatever the ground: both read the same rules.
func TestReviewOfDesigns(t *testing.T) {
	for _, method := range methods {
		k := kit(t, method)
		for _, site := range []welldesign.Site{
			valley(),
			{Layers: column(soil.Clay, 6.0, soil.Medium, 3.0, soil.Clay, 5.0, soil.Coarse, 6.0), Water: water(5, 9, 10)},
			{Layers: column(soil.Topsoil, 1.0, soil.Fine, 15.0), Water: water(1, 3, 4)},
		} {
			w := designed(t, site, k)
			if w.Verdict != welldesign.Fits || w.Casing.Natural {
				continue
			}
			r := welldesign.Review(built(site, w), geo.Some(site.Water), k.Rules)
			for _, i := range r.Issues {
				if i.Severity != geo.Note {
					t.Errorf("%s: %v of %+v", method, i.Message, w)
				}
			}
		}
	}
}

func TestReviewSaysWhere(t *testing.T) {
	site := welldesign.Site{Layers: column(soil.Clay, 4.0, soil.Medium, 5.0, soil.Clay, 2.0, soil.Coarse, 4.0), Water: water(4, 5, 6)}
	good := built(site, welldesign.Well{BottomM: 15})
	good.Pipes = []geo.Pipe{{Kind: geo.Casing, BaseM: 11}, {Kind: geo.Screen, TopM: 11, BaseM: 14.5}, {Kind: geo.Plug, TopM: 14.5, BaseM: 15}}
	good.Fills = []geo.Fill{
		{Kind: geo.Grout, BaseM: 5},
		{Kind: geo.Backfill, TopM: 5, BaseM: 9.2},
		{Kind: geo.ClaySeal, TopM: 9.2, BaseM: 10.2},
		{Kind: geo.Pack, TopM: 10.2, BaseM: 15},
	}
	tests := []struct {
		name  string
		spoil func(*geo.Bore)
		want  string // code and arguments of one issue; empty for none in doubt
	}{
		{"good", func(*geo.Bore) {}, ""},
		{"screen opposite clay", func(b *geo.Bore) {
			b.Pipes = []geo.Pipe{{Kind: geo.Casing, BaseM: 7}, {Kind: geo.Screen, TopM: 7, BaseM: 14.5}, {Kind: geo.Plug, TopM: 14.5, BaseM: 15}}
		}, "asbuilt.screen-opposite class=class.clay from=9 to=11"},
		{"screen above the design low", func(b *geo.Bore) {
			b.Pipes = []geo.Pipe{{Kind: geo.Casing, BaseM: 4.5}, {Kind: geo.Screen, TopM: 4.5, BaseM: 8.5}, {Kind: geo.Plug, TopM: 8.5, BaseM: 9}}
		}, "asbuilt.screen-above-design from=4.5 to=8.5 level=6"},
		{"screen wholly dry", func(b *geo.Bore) {
			b.Pipes = []geo.Pipe{{Kind: geo.Screen, TopM: 4, BaseM: 6}}
		}, "asbuilt.screen-dry from=4 to=6 level=6"},
		{"seal too short", func(b *geo.Bore) { b.Fills[0].BaseM, b.Fills[1].TopM = 2, 2 }, "asbuilt.seal-short length=2 to=3"},
		{"no seal", func(b *geo.Bore) {
			b.Fills = []geo.Fill{{Kind: geo.Backfill, BaseM: 9.2}, {Kind: geo.Pack, TopM: 9.2, BaseM: 15}}
		}, "asbuilt.no-seal to=3"},
		{"seal deep down", func(b *geo.Bore) { b.Fills[0].TopM = 1 }, "asbuilt.seal-not-from-ground to=3"},
		{"pack joins two waters", func(b *geo.Bore) {
			b.Fills[1].BaseM, b.Fills[2] = 6, geo.Fill{Kind: geo.ClaySeal, TopM: 6, BaseM: 7}
			b.Fills[3].TopM = 7
		}, "asbuilt.pack-joins from=9 to=11"},
		{"pack below the screen's top", func(b *geo.Bore) { b.Fills[3].TopM = 12 }, "asbuilt.pack-below-screen from=11 to=12"},
		{"two fills in one place", func(b *geo.Bore) { b.Fills[3].TopM = 9.7 }, "asbuilt.fills-overlap from=9.7 to=10.2 item=part.clay second=part.pack"},
		{"pipe under the bottom", func(b *geo.Bore) { b.DepthM = geo.Some(13.0) }, "asbuilt.pipe-under-bottom to=15 depth=13"},
		{"blank pipe before the screen", func(b *geo.Bore) { b.Pipes[0].BaseM = 13 }, "asbuilt.screen-behind-casing from=11 to=13"},
		{"no screen", func(b *geo.Bore) { b.Pipes = b.Pipes[:1] }, "asbuilt.no-screen"},
		{"weak test", func(b *geo.Bore) { b.Tests[0].RateLPS = geo.Some(0.1) }, "asbuilt.test-weak yield=0.1 amount=7.6"},
		{"pumped to the foot", func(b *geo.Bore) { b.Tests[0].PumpingM = geo.Some(14.0) }, "asbuilt.no-cover level=14 to=14.5"},
		{"test upside down", func(b *geo.Bore) { b.Tests[0].RestM, b.Tests[0].PumpingM = geo.Some(9.0), geo.Some(5.0) }, "asbuilt.test-upside-down from=9 to=5"},
		{"arsenic", func(b *geo.Bore) { b.Samples[3] = geo.Sample{Analyte: "arsenic", Unit: "mg/L", Value: geo.Some(0.05)} }, "asbuilt.unfit reason=analyte.arsenic"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := good
			for _, copied := range []any{&b.Pipes, &b.Fills, &b.Tests, &b.Samples} {
				recopy(t, copied)
			}
			tt.spoil(&b)
			r := welldesign.Review(b, geo.Some(site.Water), rules(t))
			if tt.want == "" {
				for _, i := range r.Issues {
					t.Errorf("found %v", i.Message)
				}
				return
			}
			if got := codes(r); !strings.Contains(got+";", tt.want+";") {
				t.Errorf("found %s; want %s", got, tt.want)
			}
		})
	}
}

// Manganese: 0.08 mg/L (WHO 2022) or 0.4 (WHO 2004-2017).
func TestManganeseByTheRuleInForce(t *testing.T) {
	r := rules(t)
	b := geo.Bore{Samples: []geo.Sample{{Analyte: "manganese", Unit: "mg/L", Value: geo.Some(0.2)}}}
	none := geo.Opt[welldesign.Water]{}
	if got := codes(welldesign.Review(b, none, r)); !strings.Contains(got, "asbuilt.unfit reason=analyte.manganese") {
		t.Errorf("0.2 mg/L by the rule of 2022: %s", got)
	}
	r.Drinking.Manganese, _ = r.Drinking.Manganese.Choose("who-2011")
	if got := codes(welldesign.Review(b, none, r)); strings.Contains(got, "asbuilt.unfit") {
		t.Errorf("0.2 mg/L by the rule of 2011: %s", got)
	}
}

// Rock gives water only where it is cracked: said, and no fault of the well.
func TestReviewInRock(t *testing.T) {
	b := geo.Bore{
		Layers: []geo.Layer{{TopM: 0, BaseM: 10, Class: soil.Clay}, {TopM: 10, BaseM: 30, Class: soil.Rock}},
		Pipes:  []geo.Pipe{{Kind: geo.Screen, TopM: 12, BaseM: 28}},
	}
	got := codes(welldesign.Review(b, geo.Opt[welldesign.Water]{}, rules(t)))
	if !strings.Contains(got, "asbuilt.screen-in-hard class=class.rock from=12 to=28") || strings.Contains(got, "little-screen") {
		t.Errorf("found %s", got)
	}
}

// recopy gives a slice an array of its own.
func recopy(t *testing.T, slice any) {
	t.Helper()
	switch s := slice.(type) {
	case *[]geo.Pipe:
		*s = append([]geo.Pipe(nil), *s...)
	case *[]geo.Fill:
		*s = append([]geo.Fill(nil), *s...)
	case *[]geo.PumpTest:
		*s = append([]geo.PumpTest(nil), *s...)
	case *[]geo.Sample:
		*s = append([]geo.Sample(nil), *s...)
	default:
		t.Fatalf("cannot copy %T", slice)
	}
}

// What cannot be is said and left out of the rest.
func TestReviewOfContradictions(t *testing.T) {
	b := geo.Bore{
		Pipes: []geo.Pipe{{Kind: geo.Screen, TopM: 9, BaseM: 6}, {Kind: geo.Screen, TopM: math.NaN(), BaseM: 3}, {Kind: geo.Screen, TopM: -4, BaseM: 3}},
		Fills: []geo.Fill{{Kind: geo.Grout, TopM: 3, BaseM: 3}},
	}
	r := welldesign.Review(b, geo.Opt[welldesign.Water]{}, rules(t))
	got := codes(r)
	if strings.Count(got, "asbuilt.pipe-impossible") != 3 || strings.Count(got, "asbuilt.fill-impossible") != 1 || r.Reviewed {
		t.Errorf("found %s", got)
	}
	for _, i := range r.Issues[:4] {
		if i.Severity != geo.Rejected {
			t.Errorf("%v is %s", i.Message, i.Severity)
		}
	}
	if nothing := codes(welldesign.Review(geo.Bore{}, geo.Opt[welldesign.Water]{}, rules(t))); nothing != "asbuilt.no-pipes" {
		t.Errorf("an empty record: %s", nothing)
	}
}

// Without an advice the deepest level that was read stands in.
func TestReviewByTheRecordsLevel(t *testing.T) {
	b := geo.Bore{
		Pipes:  []geo.Pipe{{Kind: geo.Screen, TopM: 4, BaseM: 9}},
		Levels: []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(3.0)}, {State: geo.LevelRest, DepthM: geo.Some(5.5)}},
	}
	if got := codes(welldesign.Review(b, geo.Opt[welldesign.Water]{}, rules(t))); !strings.Contains(got, "issue.screen-above-level from=4 to=9 level=5.5") {
		t.Errorf("found %s", got)
	}
}

// FuzzReview: any record that can be written down is reviewed, and what is found can be
// written down too.
func FuzzReview(f *testing.F) {
	f.Add([]byte(`{"pipes":[{"kind":"screen","topM":4,"baseM":9}],"fills":[{"kind":"pack","topM":2,"baseM":9}],"layers":[{"topM":0,"baseM":5,"class":"clay"}]}`))
	f.Add([]byte(`{"depthM":-1,"pipes":[{"kind":"","topM":1e300,"baseM":-9}],"tests":[{"kind":"step","rateLps":-1}]}`))
	r := rules(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		var b geo.Bore
		if len(data) > 1<<12 || json.Unmarshal(data, &b) != nil {
			return
		}
		review := welldesign.Review(b, geo.Some(water(1, 2, 3)), r)
		for _, i := range review.Issues {
			if i.Message.Code == "" || i.Severity == "" {
				t.Errorf("%+v", i)
			}
		}
		if _, err := json.Marshal(review); err != nil {
			t.Error(err)
		}
	})
}
