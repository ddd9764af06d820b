package check_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

func date(y, m, d int) geo.Opt[geo.Date] { return geo.Some(geo.Date{Year: y, Month: m, Day: d}) }

func at(lon, lat float64) geo.Opt[coord.Reading] {
	return geo.Some(coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}})
}

// sound is a bore against which nothing can be said.
func sound() geo.Bore {
	return geo.Bore{
		ID: "00000000-0000-4000-8000-000000000001", Code: "S-1", Position: at(0.1, 0.2),
		Started: date(2015, 3, 1), Completed: date(2015, 3, 4), Method: "auger", Outcome: geo.Producing,
		DepthM: geo.Some(12.0), RefusalM: geo.Some(12.0), YieldLPS: geo.Some(0.4),
		Layers: []geo.Layer{
			{TopM: 0, BaseM: 1, Words: "soil", Class: soil.Topsoil},
			{TopM: 1, BaseM: 6, Words: "clay", Class: soil.Clay},
			{TopM: 6, BaseM: 12, Words: "sand", Class: soil.Sand},
		},
		Strikes: []geo.Strike{{DepthM: 6}},
		Levels:  []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(4.5), ReferenceM: geo.Some(0.5), On: date(2015, 3, 4), Words: "5.0"}},
		Pipes:   []geo.Pipe{{Kind: geo.Casing, TopM: 0, BaseM: 8}, {Kind: geo.Screen, TopM: 8, BaseM: 11.5}},
		Fills: []geo.Fill{
			{Kind: geo.Grout, TopM: 0, BaseM: 3}, {Kind: geo.ClaySeal, TopM: 3, BaseM: 7}, {Kind: geo.Pack, TopM: 7, BaseM: 12},
		},
		Source: geo.Provenance{By: "office", File: "bores.csv", Row: 7},
	}
}

// breaks shows each rule on one bore: what to change in the sound one so that it speaks.
// The limits are those that rules.go and the rules' files name.
var breaks = map[geo.Code]func(*geo.Bore){
	check.NoPosition:         func(b *geo.Bore) { b.Position = geo.Opt[coord.Reading]{} },
	check.PositionZero:       func(b *geo.Bore) { b.Position = at(0, 0.2) },
	check.DepthZero:          func(b *geo.Bore) { b.DepthM = geo.Some(0.0) },
	check.DepthBeyondMethod:  func(b *geo.Bore) { b.DepthM = geo.Some(61.0) },
	check.LevelUnderBottom:   func(b *geo.Bore) { b.Levels[0].DepthM = geo.Some(12.6) },
	check.LevelZero:          func(b *geo.Bore) { b.Levels[0].Words = "0" },
	check.LevelNotReduced:    func(b *geo.Bore) { b.Levels[0].DepthM = geo.Some(5.0) },
	check.StrikeUnderBottom:  func(b *geo.Bore) { b.Strikes[0].DepthM = 12.6 },
	check.RefusalUnderBottom: func(b *geo.Bore) { b.RefusalM = geo.Some(12.6) },
	check.RefusalAboveBottom: func(b *geo.Bore) { b.RefusalM = geo.Some(11.4) },
	check.DryWithWater:       func(b *geo.Bore) { b.Outcome = geo.Dry },
	check.WorksButDry:        func(b *geo.Bore) { b.Levels[0].State = geo.LevelDryTo },
	check.YieldBeyondMethod:  func(b *geo.Bore) { b.YieldLPS = geo.Some(24.0) },
	check.TwoLogs: func(b *geo.Bore) {
		b.Layers = append(b.Layers, geo.Layer{BaseM: 4, Class: soil.Silt}, geo.Layer{TopM: 4, BaseM: 11, Class: soil.Sand})
	},
	check.LayerTwice:        func(b *geo.Bore) { b.Layers = append(b.Layers, b.Layers[1]) },
	check.LayersOverlap:     func(b *geo.Bore) { b.Layers[1].TopM = 0.5 },
	check.LayersGap:         func(b *geo.Bore) { b.Layers[1].TopM = 1.5 },
	check.LayersEndEarly:    func(b *geo.Bore) { b.Layers[2].BaseM = 11.5 },
	check.LayersUnderBottom: func(b *geo.Bore) { b.Layers[2].BaseM = 13 },
	check.LayersInFeet:      func(b *geo.Bore) { scale(b.Layers, 1/0.3048) },
	check.ScreenInTight:     func(b *geo.Bore) { b.Layers[2].Class = soil.Clay },
	check.ScreenAboveLevel:  func(b *geo.Bore) { b.Pipes[1].TopM = 3 },
	check.ScreenDry:         func(b *geo.Bore) { b.Pipes[1].TopM, b.Pipes[1].BaseM = 1, 2 },
	check.PackJoinsLayers: func(b *geo.Bore) {
		b.Layers = []geo.Layer{{TopM: 0, BaseM: 8, Class: soil.Sand}, {TopM: 8, BaseM: 9.5, Class: soil.Clay}, {TopM: 9.5, BaseM: 12, Class: soil.Gravel}}
	},
	check.SealShort:           func(b *geo.Bore) { b.Fills = []geo.Fill{b.Fills[2], {Kind: geo.Grout, TopM: 0, BaseM: 2.5}} },
	check.SealAbsent:          func(b *geo.Bore) { b.Fills = b.Fills[2:] },
	check.LiningUnderBottom:   func(b *geo.Bore) { b.Pipes[1].BaseM = 13 },
	check.EndBeforeStart:      func(b *geo.Bore) { b.Started = date(2015, 4, 0) },
	check.DateInFuture:        func(b *geo.Bore) { b.Completed = date(2026, 11, 26) },
	check.DatePlaceholder:     func(b *geo.Bore) { b.Completed, b.Started = date(1900, 1, 1), geo.Opt[geo.Date]{} },
	check.LevelUnderStrike:    func(b *geo.Bore) { b.Levels[0].DepthM = geo.Some(6.6) },
	check.YieldAgainstOutcome: func(b *geo.Bore) { b.YieldLPS = geo.Some(0.04) },
	check.LayersUpsideDown: func(b *geo.Bore) {
		b.Layers[0].Class, b.Layers[2].Class = b.Layers[2].Class, b.Layers[0].Class
	},
	check.DiameterOff:      func(b *geo.Bore) { b.Pipes[0].DiameterMM = geo.Some(4.0) },
	check.SampleBeforeHole: func(b *geo.Bore) { b.Samples = []geo.Sample{{Analyte: "ec", On: date(2014, 3, 4)}} },
	check.LevelBeforeHole:  func(b *geo.Bore) { b.Levels[0].On = date(2014, 0, 0) },
}

func TestEachRuleOnOneBore(t *testing.T) {
	if found := check.Bore(sound(), today); len(found) > 0 {
		t.Errorf("the sound bore: %v", found)
	}
	for code, spoil := range breaks {
		t.Run(string(code), func(t *testing.T) {
			b := sound()
			spoil(&b)
			found := check.Bore(b, today)
			at := slices.IndexFunc(found, func(i geo.Issue) bool { return i.Message.Code == code })
			if at < 0 {
				t.Fatalf("found %v", found)
			}
			if i := found[at]; i.Record != string(b.ID) || i.File != "bores.csv" || i.Row != 7 || i.Severity != ruleOf(t, code).Severity {
				t.Errorf("%+v", i)
			}
		})
	}
}

// What honest records look like though they are near to a rule.
func TestLeftInPeace(t *testing.T) {
	for name, change := range map[string]func(*geo.Bore){
		"nothing but an id and a place": func(b *geo.Bore) { *b = geo.Bore{ID: b.ID, Position: b.Position} },
		"read to a few decimetres": func(b *geo.Bore) {
			b.Levels[0].DepthM, b.Levels[0].Words, b.Pipes = geo.Some(12.4), "", nil
			b.Strikes[0].DepthM = 12
		},
		"lower half a year on":        func(b *geo.Bore) { b.Levels[0].DepthM, b.Levels[0].On, b.Pipes = geo.Some(8.0), date(2015, 9, 1), nil },
		"a pipe of telescoped casing": func(b *geo.Bore) { b.Pipes[0].DiameterMM, b.Pipes[1].DiameterMM = geo.Some(160.0), geo.Some(40.0) },
		"too little, and said so":     func(b *geo.Bore) { b.Outcome, b.YieldLPS = geo.LowYield, geo.Some(0.04) },
		"a crust over clay":           func(b *geo.Bore) { b.Layers[0].Class, b.Layers[1].Class = soil.Hardpan, soil.Clay },
		"sampled a month before the end": func(b *geo.Bore) {
			b.Started, b.Samples = date(2015, 1, 20), []geo.Sample{{Analyte: "ec", On: date(2015, 2, 1)}}
		},
		"begun in the month it ended": func(b *geo.Bore) { b.Started = date(2015, 3, 0) },
		"only the year of completion": func(b *geo.Bore) { b.Completed = date(2015, 0, 0) },
		"flowing":                     func(b *geo.Bore) { b.Levels[0] = geo.Level{State: geo.LevelFlowing, Words: "artesian"}; b.Pipes = nil },
		"a dry hole": func(b *geo.Bore) {
			b.Outcome, b.YieldLPS = geo.Dry, geo.Opt[float64]{}
			b.Levels[0].State = geo.LevelDryTo
		},
		"layers in any order": func(b *geo.Bore) { slices.Reverse(b.Layers) },
		"a machine's deep hole": func(b *geo.Bore) {
			b.Method, b.DepthM, b.RefusalM, b.YieldLPS = geo.MethodMachine, geo.Some(80.0), geo.Some(80.0), geo.Some(30.0)
			b.Layers[2].BaseM = 80
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := sound()
			change(&b)
			if found := check.Bore(b, today); len(found) > 0 {
				t.Errorf("found %v", found)
			}
		})
	}
}

func ruleOf(t *testing.T, code geo.Code) check.Rule {
	t.Helper()
	for _, r := range check.Rules() {
		if r.Code == code {
			return r
		}
	}
	t.Fatalf("no rule %s", code)
	return check.Rule{}
}

// Each rule is shown by a case: one that cannot speak would be a promise not kept.
func TestEveryRuleHasACase(t *testing.T) {
	cases := slices.Collect(maps.Keys(breaks))
	for _, c := range crowds {
		cases = append(cases, c.wants)
	}
	seen := map[geo.Code]bool{}
	for _, r := range check.Rules() {
		if seen[r.Code] {
			t.Errorf("%s stands twice", r.Code)
		}
		seen[r.Code] = true
		if !slices.Contains(cases, r.Code) {
			t.Errorf("no case shows %s", r.Code)
		}
		if r.Source == "" || r.Severity == "" {
			t.Errorf("%s: severity %q, source %q", r.Code, r.Severity, r.Source)
		}
	}
}

func TestAcrossEnds(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	never := func(geo.Issue) error { return nil }
	if err := check.Across(ctx, crowd(), check.DefaultOptions(), never); !errors.Is(err, context.Canceled) {
		t.Errorf("after a stop: %v", err)
	}
	full := errors.New("disk full")
	r := crowd()
	r.Memory.Bores[3].Position = at(60, 40)
	if err := check.Across(context.Background(), r, check.DefaultOptions(), func(geo.Issue) error { return full }); !errors.Is(err, full) {
		t.Errorf("after an error of the caller: %v", err)
	}
	r.Memory.Bores = append(r.Memory.Bores, r.Memory.Bores[0])
	if err := check.Across(context.Background(), r, check.DefaultOptions(), never); geo.KindOf(err) != geo.Invalid {
		t.Errorf("an id twice: %v", err)
	}
	if err := check.Across(context.Background(), &region{}, check.DefaultOptions(), never); err != nil {
		t.Errorf("without any record: %v", err)
	}
}

// The order of the records changes nothing.
func TestAcrossOrder(t *testing.T) {
	r, _, _ := bringIn(t, 1)
	want := fmt.Sprint(across(t, r))
	slices.Reverse(r.Memory.Bores)
	if got := fmt.Sprint(across(t, r)); got != want {
		t.Error("another order of the bores gives other findings")
	}
}
