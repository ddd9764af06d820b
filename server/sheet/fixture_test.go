package sheet_test

import (
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/server/sheet"
	"waterstrike/server/sheet/sheettest"
	"waterstrike/ui/say"

	"github.com/paulmach/orb"
)

func catalogue(t testing.TB) *say.Catalogue {
	t.Helper()
	c, err := say.New()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var site = coord.LonLat{Lon: 0.131, Lat: 0.412}

// months is a year in which holes drilled in November end too high.
func months() (out []advisor.MonthChance) {
	for m := time.January; m <= time.December; m++ {
		out = append(out, advisor.MonthChance{Month: m, Chance: 0.62 - 0.02*float64((m+7)%12)})
	}
	return out
}

// full is an invented advice with every part.
func full() advisor.Advice {
	return advisor.Advice{
		Schema:   advisor.Schema,
		Question: advisor.Question{At: site, Village: "Anse Verte", Seed: 1},
		Verdict:  advisor.Verdict{Code: advisor.WithCare, Method: "auger"},
		Methods: []advisor.MethodChance{
			{Method: "auger", Chance: 0.62, Lo: 0.45, Hi: 0.76, Reasons: []advisor.Reason{
				{Code: "reason.yield-too-low", Share: 0.18},
				{Code: "reason.stopped-by-hardpan", Share: 0.12},
				{Code: "reason.no-yielding-layer", Share: 0.08},
			}},
			{Method: "percussion", Chance: 0.58, Lo: 0.4, Hi: 0.72},
			{Method: "jetting", Chance: 0.004, Lo: 0, Hi: 0.02},
		},
		Months: months(),
		Water: &advisor.Water{
			NormalLow:    advisor.Range{P10: 6.1, P50: 7.4, P90: 8.9},
			DesignLow:    advisor.Range{P10: 7.2, P50: 8.6, P90: 10.2},
			WetHigh:      advisor.Range{P10: -0.2, P50: 3.1, P90: 4.8},
			SeasonRangeM: 2.5, Readings: 41, NearestM: 620,
		},
		Layers: []advisor.Layer{
			{TopM: 0, BaseM: 0.5, Class: soil.Topsoil, Chance: 0.91},
			{TopM: 0.5, BaseM: 5, Class: soil.Clay, Chance: 0.66},
			{TopM: 5, BaseM: 13.5, Class: soil.Sand, Chance: 0.71},
			{TopM: 13.5, BaseM: 40, Class: soil.Rock, Chance: 0.58},
		},
		Odds: odds(),
		Plan: sheettest.Plan(),
		Quality: advisor.Quality{Verdict: advisor.NotFit, Bores: 7, Because: []geo.Message{
			geo.Say("quality.over-health", geo.With("item", geo.Ref("analyte.arsenic")), geo.With("n", geo.Count(4)), geo.With("total", geo.Count(7)), geo.With("distance", geo.DistanceM(5000))),
			geo.Say("quality.tests"), geo.Say("quality.until-tested"),
		}},
		Cautions: []geo.Message{geo.Say("caution.local-code"), geo.Say("caution.visit"), geo.Say("caution.never-enter")},
		Evidence: advisor.Evidence{
			Effective: 6, ForLayers: 6, ForWater: 9, NearestM: geo.Some(620.0), Logs: 312, Levels: 401, Bores: bores(),
			Regional: advisor.RegionalRate{Bores: 430, Known: 420, Producing: 271},
		},
		Provenance: advisor.Provenance{Snapshot: "1834", Bores: 460, Version: "0.1.0"},
	}
}

func odds() *advisor.OddsColumn {
	o := &advisor.OddsColumn{CellM: 0.5, Classes: []soil.Class{soil.Topsoil, soil.Clay, soil.Sand, soil.Rock}}
	for i := range 80 {
		row := []float64{0.02, 0.18, 0.7, 0.1}
		switch {
		case i == 0:
			row = []float64{0.91, 0.07, 0.02, 0}
		case i < 10:
			row = []float64{0, 0.66, 0.3, 0.04}
		case i >= 27:
			row = []float64{0, 0.2, 0.22, 0.58}
		}
		o.Odds = append(o.Odds, row)
	}
	return o
}

func bores() []advisor.EvidenceBore {
	dates := []geo.Opt[geo.Date]{geo.Some(geo.Date{Year: 2019, Month: 3, Day: 1}), geo.Some(geo.Date{Year: 2018, Month: 11}), geo.Some(geo.Date{Year: 2004}), {}}
	outcomes := []geo.Outcome{geo.Producing, geo.Refused, geo.Dry, geo.LowYield}
	var out []advisor.EvidenceBore
	for i := range 10 {
		d := 620 + 480*float64(i)
		b := advisor.EvidenceBore{
			ID: geo.BoreID("00000000-0000-4000-8000-00000000000" + string(rune('0'+i))), Label: "AV-" + string(rune('A'+i)), Method: "auger", DepthM: geo.Some(6.5 + float64(i)),
			At:        coord.LonLat{Lon: site.Lon + d/157000*float64(1-i%3), Lat: site.Lat + d/157000},
			DistanceM: d, Outcome: outcomes[i%4], Completed: dates[i%4],
			Layers: 0.2 / float64(i+1), Level: 0.3 / float64(i+1), Weight: 0.25 / float64(i+1),
		}
		if i%3 == 0 {
			b.LevelM = geo.Some(5.2 + float64(i)/10)
		}
		out = append(out, b)
	}
	return out
}

// bare is an advice where nothing is known.
func bare() advisor.Advice {
	return advisor.Advice{
		Schema: advisor.Schema, Question: advisor.Question{At: site, Seed: 1},
		Verdict: advisor.Verdict{Code: advisor.NotEnough, Because: []geo.Message{geo.Say("evidence.weak")}},
		Methods: []advisor.MethodChance{}, Quality: advisor.Quality{Verdict: advisor.FitIsNotKnown},
		Cautions: []geo.Message{geo.Say("caution.visit")}, Provenance: advisor.Provenance{Snapshot: "2", Bores: 1},
	}
}

func ground() sheet.Ground {
	return sheet.Ground{
		Rivers:     []geo.River{{Name: "Wide", Line: orb.LineString{{0.05, 0.3}, {0.12, 0.42}, {0.2, 0.6}}}},
		Boundaries: []geo.Boundary{{Name: "Land", Shape: orb.MultiPolygon{{{{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}, {0, 0}}}}}},
		Villages: []geo.Village{
			{Name: "Anse Verte", Position: coord.Reading{Pos: site}},
			{Name: "Bellefontaine", Position: coord.Reading{Pos: coord.LonLat{Lon: 0.1311, Lat: 0.4121}}},
			{Name: "Calebasse", Position: coord.Reading{Pos: coord.LonLat{Lon: 0.3, Lat: 0.1}}},
		},
	}
}
