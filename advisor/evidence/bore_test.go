package evidence_test

import (
	"slices"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// kept is what a snapshot keeps of one bore, put through the checks of a record first.
func kept(t *testing.T, b geo.Bore) *evidence.Bore {
	t.Helper()
	b.ID, b.Position = idOf(1), geo.Some(at(0.1, 0.2))
	b, err := geo.NewBore(b)
	if err != nil {
		t.Fatal(err)
	}
	src := newBase()
	src.save(b)
	near := load(t, src).Nearest(coord.LonLat{}, 1)
	if len(near) != 1 {
		t.Fatalf("%d bores", len(near))
	}
	return near[0].Bore
}

func TestBoreKept(t *testing.T) {
	b := kept(t, geo.Bore{
		Code: "K-7", Name: "School", Method: "sludging", Outcome: geo.Refused,
		Completed: geo.Some(geo.Date{Year: 2011, Month: 3}), DepthM: geo.Some(14.0), RefusalM: geo.Some(13.5),
		Layers: []geo.Layer{
			{TopM: 2, BaseM: 14, Class: soil.Sand, Grade: soil.Coarse, Clayey: true, Confidence: 0.8},
			{TopM: 0, BaseM: 2, Class: soil.Clay, Confidence: 1},
		},
	})
	if b.ID != idOf(1) || b.Label != "K-7" || b.Pos != (coord.LonLat{Lon: 0.1, Lat: 0.2}) || b.Method != "sludging" ||
		b.Outcome != geo.Refused || b.Completed != (geo.Date{Year: 2011, Month: 3}) || b.DepthM.Or(0) != 14 || b.RefusalM.Or(0) != 13.5 {
		t.Errorf("%+v", b)
	}
	want := []evidence.Layer{
		{TopM: 0, BaseM: 2, Class: soil.Clay},
		{TopM: 2, BaseM: 14, Class: soil.Sand, Grade: soil.Coarse, Clayey: true},
	}
	if !slices.Equal(b.Layers, want) || !evidence.HasLayers(b) || evidence.HasLevel(b) {
		t.Errorf("layers %+v, levels %+v", b.Layers, b.Levels)
	}
	if least := kept(t, geo.Bore{}); least.Completed != (geo.Date{}) || least.DepthM.Known() || least.Label != string(idOf(1)) {
		t.Errorf("%+v", least)
	}
}

// Which of a bore's statements about the water is taken, and of which month it is.
func TestLevelChosen(t *testing.T) {
	on := func(text string) geo.Opt[geo.Date] {
		d, err := geo.ParseDate(text)
		if err != nil {
			t.Fatal(err)
		}
		return geo.Some(d)
	}
	none := geo.Opt[geo.Date]{}
	rest := func(depthM float64, date geo.Opt[geo.Date]) geo.Level {
		return geo.Level{State: geo.LevelRest, DepthM: geo.Some(depthM), On: date}
	}
	flowing := geo.Level{State: geo.LevelFlowing}
	for _, c := range []struct {
		name string
		give geo.Bore
		want []evidence.Level
	}{
		{"nothing known", geo.Bore{}, nil},
		{"a depth alone", geo.Bore{DepthM: geo.Some(14.0), Outcome: geo.Refused}, nil},
		{"one reading", geo.Bore{Levels: []geo.Level{rest(4, on("2011-03-02"))}}, []evidence.Level{{State: geo.LevelRest, DepthM: 4, Year: 2011, Month: 3, Day: 2}}},
		{
			"the last by date",
			geo.Bore{Levels: []geo.Level{rest(5, on("2012-09")), rest(4, on("2011-03"))}},
			[]evidence.Level{{State: geo.LevelRest, DepthM: 5, Year: 2012, Month: 9}},
		},
		{
			"a dated one before an undated one",
			geo.Bore{Levels: []geo.Level{rest(5, on("2012-09")), rest(4, none)}},
			[]evidence.Level{{State: geo.LevelRest, DepthM: 5, Year: 2012, Month: 9}},
		},
		{
			"undated: month of completion",
			geo.Bore{Completed: on("2011-06"), Levels: []geo.Level{rest(4, none)}},
			[]evidence.Level{{State: geo.LevelRest, DepthM: 4, Year: 2011, Month: 6}},
		},
		{
			"year of completion: its month",
			geo.Bore{Completed: on("2011-06"), Levels: []geo.Level{rest(4, on("2011"))}},
			[]evidence.Level{{State: geo.LevelRest, DepthM: 4, Year: 2011, Month: 6}},
		},
		{
			"another year: no month",
			geo.Bore{Completed: on("2011-06"), Levels: []geo.Level{rest(4, on("2014"))}},
			[]evidence.Level{{State: geo.LevelRest, DepthM: 4, Year: 2014}},
		},
		{"no date at all", geo.Bore{Completed: on("2011"), Levels: []geo.Level{rest(4, none)}}, []evidence.Level{{State: geo.LevelRest, DepthM: 4, Year: 2011}}},
		{"water at the ground", geo.Bore{Levels: []geo.Level{rest(0, none)}}, []evidence.Level{{State: geo.LevelRest, DepthM: 0}}},
		{"flowing", geo.Bore{Levels: []geo.Level{flowing}}, []evidence.Level{{State: geo.LevelFlowing}}},
		{
			"at rest above ground: flowing",
			geo.Bore{Levels: []geo.Level{rest(-0.4, on("2011-03"))}},
			[]evidence.Level{{State: geo.LevelFlowing, Year: 2011, Month: 3}},
		},
		{
			"dry down to",
			geo.Bore{Levels: []geo.Level{{State: geo.LevelDryTo, DepthM: geo.Some(9.0), On: on("2011-03")}}},
			[]evidence.Level{{State: geo.LevelDryTo, DepthM: 9, Year: 2011, Month: 3}},
		},
		{
			"a dry bore: dry to its depth",
			geo.Bore{Outcome: geo.Dry, DepthM: geo.Some(14.0), Completed: on("2011-06")},
			[]evidence.Level{{State: geo.LevelDryTo, DepthM: 14, Year: 2011, Month: 6}},
		},
		{
			"a dry bore with a reading: the reading",
			geo.Bore{Outcome: geo.Dry, DepthM: geo.Some(14.0), Levels: []geo.Level{rest(13, none)}},
			[]evidence.Level{{State: geo.LevelRest, DepthM: 13}},
		},
		{"a dry bore of unknown depth", geo.Bore{Outcome: geo.Dry}, nil},
	} {
		if len(c.give.Levels) > 0 && !c.give.DepthM.Known() {
			c.give.DepthM = geo.Some(20.0)
		}
		if got := kept(t, c.give).Levels; !slices.Equal(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// Deep water may rest anywhere: a bore that takes its water from below 60 m says nothing
// of the first water, and one whose depth nobody wrote says it with a doubt.
func TestDeepWaterIsLeftOut(t *testing.T) {
	rest := []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(2.0)}}
	screen := func(top float64) []geo.Pipe {
		return []geo.Pipe{{Kind: geo.Screen, TopM: top, BaseM: top + 3}}
	}
	for _, c := range []struct {
		name      string
		give      geo.Bore
		deep, any bool
	}{
		{"a shallow bore", geo.Bore{DepthM: geo.Some(20.0), Levels: rest}, false, false},
		{"a deep bore", geo.Bore{DepthM: geo.Some(250.0), Levels: rest}, true, false},
		{"a deep bore that flows", geo.Bore{DepthM: geo.Some(250.0), Levels: []geo.Level{{State: geo.LevelFlowing}}}, true, false},
		{"a bore that flows from nobody knows where", geo.Bore{Levels: []geo.Level{{State: geo.LevelFlowing}}}, true, false},
		{"a shallow bore that flows", geo.Bore{DepthM: geo.Some(20.0), Levels: []geo.Level{{State: geo.LevelFlowing}}}, false, false},
		{"a deep hole with a shallow screen", geo.Bore{DepthM: geo.Some(250.0), Pipes: screen(20), Levels: rest}, false, false},
		{"a deep screen", geo.Bore{Pipes: screen(80), Levels: rest}, true, false},
		{"struck at 12 m", geo.Bore{DepthM: geo.Some(90.0), Strikes: []geo.Strike{{DepthM: 12}}, Levels: rest}, false, false},
		{"of unknown depth", geo.Bore{Levels: rest}, false, true},
		{"a deep bore that rests low", geo.Bore{DepthM: geo.Some(250.0), Levels: []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(95.0)}}}, false, true},
		{"dry to 80 m", geo.Bore{DepthM: geo.Some(80.0), Outcome: geo.Dry}, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := kept(t, c.give)
			if b.Deep != c.deep || evidence.HasLevel(b) == c.deep {
				t.Fatalf("deep %v, states a level %v", b.Deep, evidence.HasLevel(b))
			}
			if !c.deep && b.Levels[0].Any != c.any {
				t.Errorf("depth unknown: %v", b.Levels[0].Any)
			}
		})
	}
}
