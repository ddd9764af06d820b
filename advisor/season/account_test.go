package season_test

import (
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

func reading(lon, lat float64) coord.Reading {
	return coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}}
}

func on(year int) geo.Date { return geo.Date{Year: year, Month: 6, Day: 1} }

// small is two villages, a bore that produced at the first, its point that broke later, a
// bore that produced at the second and of which there is no point, and a dry hole. All
// figures below are counted by hand from these.
func small() season.Records {
	bore := func(id string, lon float64, year int, o geo.Outcome, cost float64) geo.Bore {
		return geo.Bore{
			ID: geo.BoreID(id), Position: geo.Some(reading(lon, 0)), Completed: geo.Some(on(year)), Method: "auger", Outcome: o,
			DepthM: geo.Some(10.0), Cost: geo.Some(geo.Money{Amount: cost, Currency: "XTS"}),
		}
	}
	return season.Records{
		Villages: []geo.Village{{ID: "v1", Name: "One", Position: reading(0, 0), People: geo.Some(300)}, {ID: "v2", Name: "Two", Position: reading(0.1, 0), People: geo.Some(100)}},
		Points: []geo.WaterPoint{{ID: "p1", Kind: geo.TubeWell, Position: reading(0.0001, 0), Visits: []geo.Visit{
			{On: on(2011), Works: geo.Some(true)}, {On: geo.Date{Year: 2012, Month: 5, Day: 2}, Works: geo.Some(false)},
		}}},
		Bores: []geo.Bore{
			bore("b1", 0, 2010, geo.Producing, 400), bore("b2", 0.1, 2012, geo.Producing, 500), bore("b3", 0.05, 2012, geo.Dry, 300),
			bore("b4", 0.1, 2020, geo.Producing, 900),
		},
	}
}

// Before the first dated record nothing can be accounted for; with nothing dated
// any day will do.
func TestBeforeTheRecords(t *testing.T) {
	r := small()
	for day, refused := range map[geo.Date]bool{{Year: 1890}: true, {Year: 2010, Month: 5, Day: 31}: true, on(2010): false} {
		_, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: day})
		if refused != (geo.KindOf(err) == geo.Invalid && strings.Contains(err.Error(), "season.before-records")) || !refused && err != nil {
			t.Errorf("%v: %v", day, err)
		}
	}
	r.Bores, r.Points = nil, nil
	if _, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: geo.Date{Year: 1890}}); err != nil {
		t.Errorf("nothing is dated: %v", err)
	}
}

func TestReportIsCounted(t *testing.T) {
	r := small()
	for _, c := range []struct {
		year, served, points, bores int
	}{
		{2010, 300, 1, 1}, // b1 is p1, found working on the day it was finished
		{2011, 300, 1, 1},
		{2012, 100, 1, 3}, // p1 broke; b2 serves the other village
		{2019, 100, 1, 3}, // b4 is not finished yet
		{2021, 100, 1, 4}, // two points beside 100 people: the nearest by ID serves them
	} {
		a, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: on(c.year)})
		if err != nil {
			t.Fatal(err)
		}
		if a.Now.Served.N != c.served || a.Now.Living.N != 400 || len(a.Now.Served.Points) != c.points {
			t.Errorf("%d: %d of %d served by %v", c.year, a.Now.Served.N, a.Now.Living.N, a.Now.Served.Points)
		}
		if got := a.Outcomes.Rate.Known; got != c.bores {
			t.Errorf("%d: %d bores, want %d", c.year, got, c.bores)
		}
		if last := a.Years[len(a.Years)-1]; last.On != on(c.year) || last.Served != c.served {
			t.Errorf("%d: the last year is %+v", c.year, last)
		}
	}
	a, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: on(2012), Foretold: map[string]float64{"b1": 0.9, "b3": 0.2}})
	if err != nil {
		t.Fatal(err)
	}
	cost := a.Outcomes.Cost
	for name, got := range map[string]struct{ is, want float64 }{
		"a metre":   {cost.Metre.Per.Or(0), 1200.0 / 30},
		"a success": {cost.Success.Per.Or(0), 1200.0 / 2},
		"a person":  {cost.Person.Per.Or(0), 1200.0 / 100},
		"foretold":  {a.Outcomes.Kept.Foretold, 1.1},
	} {
		if got.is < got.want-1e-9 || got.is > got.want+1e-9 {
			t.Errorf("%s: %g, want %g", name, got.is, got.want)
		}
	}
	if a.Lasting == nil || len(a.Lasting.Horizon) != 3 {
		t.Fatalf("lasting: %+v", a.Lasting)
	}
	// Of the two points one was watched for no time at all, the other found broken after two
	// years: one of one outlasts a year, none two.
	if step, ok := a.Lasting.Horizon[0].Found.Get(); !ok || step.Survival != 1 {
		t.Errorf("after a year: %+v", step)
	}
	if step, ok := a.Lasting.Horizon[1].Found.Get(); !ok || step.Survival != 0 {
		t.Errorf("after two years: %+v", step)
	}
}

// A day without any record counts nobody and fails nothing; records that contradict
// themselves are named.
func TestReportOfNothing(t *testing.T) {
	a, err := season.Report(t.Context(), &season.Records{}, season.AccountAsk{Standard: sphere(t), On: on(2020)})
	if err != nil {
		t.Fatal(err)
	}
	if a.Now.Served.N != 0 || a.Outcomes.Rate.Share.Known() || a.Lasting != nil {
		t.Errorf("%+v", a)
	}
	r := small()
	r.Villages = append(r.Villages, r.Villages[0])
	if _, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: on(2020)}); geo.KindOf(err) != geo.Invalid {
		t.Errorf("a village twice: %v", err)
	}
}

// The account names who answers for a needed test that was never made, until it is made.
func TestReportNamesWaivers(t *testing.T) {
	r := small()
	waiver := geo.Sample{Analyte: "arsenic", Unit: "ug/L", On: geo.Some(on(2011)), WaivedBy: "A. Diallo", Reason: "none in forty bores around"}
	result := geo.Sample{Analyte: "arsenic", Unit: "ug/L", On: geo.Some(on(2012)), Value: geo.Some(3.0)}
	r.Bores[0].Samples = []geo.Sample{waiver, result}
	for year, want := range map[int]int{2010: 0, 2011: 1, 2013: 0} {
		a, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: on(year)})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Waivers) != want || want == 1 && (a.Waivers[0].By != "A. Diallo" || a.Waivers[0].Bore != string(r.Bores[0].ID)) {
			t.Errorf("%d: %+v, want %d", year, a.Waivers, want)
		}
	}
}

// Water that was tested and is unfit does not count where tests are asked for.
func TestReportOfTestedWater(t *testing.T) {
	r := small()
	one := func(analyte, unit string, value float64) geo.Sample {
		return geo.Sample{Analyte: analyte, Unit: unit, Value: geo.Some(value), On: geo.Some(on(2010))}
	}
	waived := func(year int) geo.Sample {
		return geo.Sample{Analyte: "arsenic", Unit: "ug/L", On: geo.Some(on(year)), WaivedBy: "A. Diallo", Reason: "none in forty bores around"}
	}
	arsenic := func(value float64) []geo.Sample { return []geo.Sample{one("arsenic", "ug/L", value)} }
	nitrate := one("nitrate", "mg/L", 20)
	nitrate.Basis = "NO3"
	rest := []geo.Sample{one("e-coli", "CFU/100mL", 0), nitrate, one("ec", "uS/cm", 700), one("fluoride", "mg/L", 0.4)}
	for _, c := range []struct {
		samples []geo.Sample
		served  int
		out     geo.Code
	}{
		// Arsenic: WHO guideline value 10 ug/L (Guidelines for drinking-water quality, 4th edition).
		{slices.Concat(arsenic(2), rest), 300, ""},
		{arsenic(50), 0, coverage.TestFailed},
		{arsenic(2), 0, coverage.NotTested}, // of five results that are needed four are missing
		{nil, 0, coverage.NotTested},
		// Four results and a name for the fifth; a name takes no result away, nor does a later one.
		{slices.Concat(rest, []geo.Sample{waived(2010)}), 300, ""},
		{slices.Concat(rest, arsenic(50), []geo.Sample{waived(2010)}), 0, coverage.TestFailed},
		{slices.Concat(rest, arsenic(50), []geo.Sample{waived(2011)}), 0, coverage.TestFailed},
		{slices.Concat(rest, []geo.Sample{waived(2012)}), 0, coverage.NotTested}, // after the day asked about
	} {
		r.Bores[0].Samples = c.samples
		a, err := season.Report(t.Context(), &r, season.AccountAsk{Standard: sphere(t), On: on(2011), Tested: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range a.Now.Points {
			if p.ID == "p1" && p.Out != c.out {
				t.Errorf("%v: %q, want %q", c.samples, p.Out, c.out)
			}
		}
		if a.Now.Served.N != c.served {
			t.Errorf("%v: %d served, want %d", c.samples, a.Now.Served.N, c.served)
		}
	}
}
