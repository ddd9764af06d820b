package draw_test

import (
	"math"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

func fullLog() draw.LogData {
	return draw.LogData{
		DepthM: 14,
		Layers: []draw.ColumnLayer{{TopM: 0, BaseM: 5, Note: "red clay", Odds: []draw.Odds{{Class: "clay", Share: 1}}}, {TopM: 5, BaseM: 14, Odds: []draw.Odds{{Class: "sand-coarse", Share: 1}}}},
		Pipes:  []draw.LogPart{{"casing", 0, 9}, {"screen", 9, 12}, {"plug", 12, 12.5}},
		Fills:  []draw.LogPart{{"grout", 0, 3}, {"clay", 3, 4}, {"backfill", 4, 7}, {"pack", 7, 13}},
		Marks:  []draw.LogMark{{"strike", 6, "6 m"}, {"rest", 5, "5 m"}, {"dry-to", 3, ""}, {"flowing", -0.2, ""}},
		Paces:  []draw.LogPace{{0, 5, 30}, {5, 14, 60}},
		Tests:  []draw.LogTest{{5, 7, "0.3 L/s"}},
	}
}

func options(wide bool) draw.LogOptions {
	if wide {
		return draw.LogOptions{WidthMM: 176, HeightMM: 128, ID: "a-", Title: "Bore", Notes: true}
	}
	return draw.LogOptions{WidthMM: 92, HeightMM: 150, ID: "b-", Title: "Bore"}
}

// Everything stands on one scale: what has the same depth is drawn at the same height, and
// nothing leaves the sheet.
func TestLogKeepsOneScale(t *testing.T) {
	for _, wide := range []bool{true, false} {
		o := options(wide)
		s, err := draw.Log(fullLog(), o)
		if err != nil {
			t.Fatal(err)
		}
		rects := map[string]draw.Rect{}
		walk(s.Items, func(i draw.Item) {
			if r, ok := i.(draw.Rect); ok {
				if r.X < 0 || r.Y < 0 || r.X+r.WidthMM > o.WidthMM+1e-9 || r.Y+r.HeightMM > o.HeightMM+1e-9 {
					t.Errorf("off the sheet: %+v", r)
				}
				if key := r.Fill.Pattern + r.Fill.Color; rects[key].HeightMM < r.HeightMM {
					rects[key] = r
				}
			}
		})
		clay, coarse, pace := rects["clay#8fa39b"], rects["sand-coarse#d2ab50"], rects["#a9cbe6"]
		perM := clay.HeightMM / 5
		for name, c := range map[string][2]float64{
			"sand by clay":     {coarse.HeightMM, 9 * perM},
			"sand begins":      {coarse.Y, clay.Y + clay.HeightMM},
			"pace beside sand": {pace.Y, coarse.Y},
			"pack":             {rects["sand-coarse#f3e09a"].Y, clay.Y + 7*perM},
			"cement":           {rects["#b9bcc0"].HeightMM, 3 * perM},
		} {
			if math.Abs(c[0]-c[1]) > 1e-9 {
				t.Errorf("wide %v, %s: %v mm, want %v", wide, name, c[0], c[1])
			}
		}
	}
}

func walk(items []draw.Item, visit func(draw.Item)) {
	for _, i := range items {
		visit(i)
		if g, ok := i.(draw.Group); ok {
			walk(g.Items, visit)
		}
	}
}

// A lane in which nothing was written says so.
func TestLogSaysWhatIsMissing(t *testing.T) {
	o := options(true)
	o.Words = map[string]string{"missing": "nothing"}
	s, err := draw.Log(draw.LogData{DepthM: 8}, o)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := s.WriteSVG(&b); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(b.String(), ">nothing<"); n != 5 {
		t.Errorf("%d lanes say that nothing was written, want 5", n)
	}
}

func TestLogRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*draw.LogData, *draw.LogOptions){
		"nothing":          func(d *draw.LogData, _ *draw.LogOptions) { *d = draw.LogData{} },
		"depth NaN":        func(d *draw.LogData, _ *draw.LogOptions) { d.DepthM = math.NaN() },
		"layer upside":     func(d *draw.LogData, _ *draw.LogOptions) { d.Layers[0].BaseM = -1 },
		"class unheard of": func(d *draw.LogData, _ *draw.LogOptions) { d.Layers[0].Odds[0].Class = "cheese" },
		"pipe upside down": func(d *draw.LogData, _ *draw.LogOptions) { d.Pipes[0].TopM = 99 },
		"fill of cheese":   func(d *draw.LogData, _ *draw.LogOptions) { d.Fills[0].Kind = "cheese" },
		"mark of nothing":  func(d *draw.LogData, _ *draw.LogOptions) { d.Marks[0].Kind = "" },
		"level NaN":        func(d *draw.LogData, _ *draw.LogOptions) { d.Marks[0].DepthM = math.NaN() },
		"no time at all":   func(d *draw.LogData, _ *draw.LogOptions) { d.Paces[0].MinutesPerM = 0 },
		"test to infinity": func(d *draw.LogData, _ *draw.LogOptions) { d.Tests[0].LowestM = math.Inf(1) },
		"no room":          func(_ *draw.LogData, o *draw.LogOptions) { o.HeightMM = 30 },
	} {
		d, o := fullLog(), options(true)
		spoil(&d, &o)
		if _, err := draw.Log(d, o); err == nil {
			t.Errorf("%s went through", name)
		}
	}
}
