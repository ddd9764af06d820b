package sheettest

import (
	"context"

	"waterstrike/advisor"
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
)

// Standards is the embedded list.
func Standards() []coverage.Standard {
	list, err := coverage.Defaults()
	if err != nil {
		panic(err)
	}
	return list
}

// Records are four villages in two districts with two points and four bores.
func Records() season.Records {
	at := func(lon, lat float64) coord.Reading { return coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}} }
	box := func(west, east float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, 0}, {east, 0}, {east, 1}, {west, 1}, {west, 0}}}}
	}
	day := func(year int) geo.Date { return geo.Date{Year: year, Month: 5, Day: 2} }
	bore := func(id string, lon float64, year int, outcome geo.Outcome) geo.Bore {
		return geo.Bore{
			ID: geo.BoreID(id), Code: "B-" + id, Position: geo.Some(at(lon, 0.1)), Completed: geo.Some(day(year)), Method: "auger",
			Outcome: outcome, DepthM: geo.Some(10.0), Cost: geo.Some(geo.Money{Amount: 500, Currency: "XTS"}),
		}
	}
	return season.Records{
		Snapshot: "7",
		Villages: []geo.Village{
			{ID: "v1", Name: "Anse Étoile", Position: at(0.1, 0.1), People: geo.Some(420)},
			{ID: "v2", Name: "Belle", Position: at(0.3, 0.1), People: geo.Some(300)},
			{ID: "v3", Name: "Corde", Position: at(0.7, 0.1), People: geo.Some(200)},
			{ID: "v4", Name: "Dent", Position: at(0.9, 0.1)},
		},
		Points: []geo.WaterPoint{
			{ID: "p1", Name: "Old well", Kind: geo.DugWell, Position: at(0.301, 0.1), Works: geo.Some(true)},
			{ID: "p2", Name: "Pool", Kind: geo.OpenWater, Position: at(0.7, 0.101), Works: geo.Some(true)},
			{ID: "p3", Name: "First pump", Kind: geo.TubeWell, Position: at(0.1001, 0.1), Visits: []geo.Visit{
				{On: geo.Date{Year: 2020, Month: 6, Day: 1}, Works: geo.Some(true)}, {On: geo.Date{Year: 2022, Month: 6, Day: 1}, Works: geo.Some(false)},
			}},
		},
		Bores: []geo.Bore{
			bore("b1", 0.1, 2019, geo.Producing), bore("b2", 0.5, 2019, geo.Dry), bore("b3", 0.3, 2020, geo.Producing), bore("b4", 0.6, 2021, geo.Refused),
		},
		Boundaries: []geo.Boundary{{Name: "West", Kind: season.DistrictKind, Shape: box(0, 0.5)}, {Name: "East", Kind: season.DistrictKind, Shape: box(0.5, 1)}},
	}
}

// adviser says the same of every spot.
type adviser struct{}

func (adviser) Currency() string { return "" }

func (adviser) Prospects(_ context.Context, spots []coord.LonLat, _ advisor.ProspectOptions, progress advisor.Progress) ([]advisor.Prospect, error) {
	out := make([]advisor.Prospect, len(spots))
	for i, at := range spots {
		w := advisor.Way{Method: "auger", Chances: make([]float64, advisor.Scenarios), DrilledM: 12, Well: geo.Some(advisor.Range{P10: 10, P50: 12, P90: 15})}
		w.Work.DaysOut.P80 = 4
		for m := range w.Chances {
			w.Chances[m] = 0.5 + 0.4*float64(m)/advisor.Scenarios
			w.Chance += w.Chances[m] / advisor.Scenarios
		}
		out[i] = advisor.Prospect{At: at, Ways: []advisor.Way{w}}
		progress(i+1, len(spots))
	}
	return out, nil
}

// Wishes asks for a season of a few weeks.
func Wishes() season.Wishes {
	w := season.DefaultWishes()
	w.Standard, w.On = Standards()[0], geo.Date{Year: 2023, Month: 10, Day: 31}
	w.PerMetre = geo.Some(50.0)
	w.Budget, w.Windows = 1500, []programme.Window{{Name: "dry", Weeks: 6}}
	return w
}

// Season chooses among the records.
func Season(ctx context.Context, w season.Wishes) (*season.Season, error) {
	r := Records()
	return season.Choose(ctx, &r, adviser{}, w, func(int, int) {})
}

// Account accounts for the records.
func Account(ctx context.Context, q season.AccountAsk) (*season.Account, error) {
	r := Records()
	return season.Report(ctx, &r, q)
}
