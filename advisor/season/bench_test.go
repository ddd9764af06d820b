package season_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
)

// country is invented records over some 150 by 150 km, in nine districts.
func country(villages, points int) (r season.Records) {
	rng := rand.New(rand.NewPCG(1, 9))
	spot := func() coord.Reading {
		return coord.Reading{Pos: coord.LonLat{Lon: 1.35 * rng.Float64(), Lat: 1.35 * rng.Float64()}}
	}
	for i := range 9 {
		w, s := 0.45*float64(i%3), 0.45*float64(i/3)
		r.Boundaries = append(r.Boundaries, geo.Boundary{
			ID: geo.PlaceID(fmt.Sprint("d", i)), Name: fmt.Sprint("District ", i), Kind: season.DistrictKind,
			Shape: orb.MultiPolygon{{{{w, s}, {w + 0.45, s}, {w + 0.45, s + 0.45}, {w, s + 0.45}, {w, s}}}},
		})
	}
	for i := range villages {
		r.Villages = append(r.Villages, geo.Village{ID: geo.VillageID(fmt.Sprintf("v%06d", i)), Name: fmt.Sprint("Village ", i), Position: spot(), People: geo.Some(50 + rng.IntN(800))})
	}
	day := func(year int) geo.Date { return geo.Date{Year: year, Month: 1 + rng.IntN(12), Day: 1 + rng.IntN(28)} }
	for i := range points {
		at, built := spot(), 2009+rng.IntN(12)
		p := geo.WaterPoint{ID: geo.WaterPointID(fmt.Sprintf("w%06d", i)), Kind: geo.TubeWell, Position: at}
		for year := built + 1; year <= built+3; year++ {
			p.Visits = append(p.Visits, geo.Visit{On: day(year), Works: geo.Some(rng.IntN(5) > 0)})
		}
		b := geo.Bore{
			ID: geo.BoreID(fmt.Sprintf("b%06d", i)), Position: geo.Some(at), Outcome: geo.Producing, Method: "auger",
			DepthM: geo.Some(6 + 20*rng.Float64()), Completed: geo.Some(day(built)), Cost: geo.Some(geo.Money{Amount: 400 + 600*rng.Float64(), Currency: "XTS"}),
		}
		r.Points, r.Bores = append(r.Points, p), append(r.Bores, b)
	}
	return r
}

// BenchmarkReport is the whole account of 100,000 villages, 10,000 points and as many
// bores, with coverage on the same day of twelve years; it has to take at most 10 s. The
// baseline is a hundredth of the villages with a tenth of the points.
func BenchmarkReport(b *testing.B) {
	standard := sphere(b)
	for _, c := range []struct {
		name             string
		villages, points int
	}{{"whole", 100_000, 10_000}, {"a hundredth", 1_000, 1_000}} {
		records := country(c.villages, c.points)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				a, err := season.Report(b.Context(), &records, season.AccountAsk{Standard: standard, On: geo.Date{Year: 2023, Month: 6, Day: 30}})
				if err != nil || len(a.Years) != 12 || a.Now.Served.N == 0 || len(a.Now.Districts) != 9 {
					b.Fatal(err, len(a.Years))
				}
			}
		})
	}
}
