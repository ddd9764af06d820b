package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

// Shallow water that is read in the rains, where it stands near the ground, tells years as
// they are: a dry year is not stretched by the little room that the water has there.
func TestYearsOfShallowWater(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 13))
	season := DefaultSeason(1)
	season.Given = true
	deeper := [12]float64{0.6, -0.4, 0.2, -0.7, 0.3, 0.9, -0.5, -0.2, 0.5, -0.6, 0.1, -0.2}
	var obs []Observation
	for range 400 {
		o := Observation{At: variogram.XY{X: 20000 * rng.Float64(), Y: 20000 * rng.Float64()}}
		o.On = geo.Date{Year: 2004 + rng.IntN(12), Month: 5 + rng.IntN(7), Day: 1 + rng.IntN(28)}
		low := (1.2 + o.At.X/20000) * math.Exp(0.1*rng.NormFloat64())
		g, _ := season.rise(o.On)
		year, part := season.waterYear(o.On)
		e := part*deeper[(year-2004+12)%12] + (1-part)*deeper[(year-2005+24)%12]
		o.DepthM = max(low-g*season.rangeAt(low)+e, 0)
		obs = append(obs, o)
	}
	_, report, err := Fit(t.Context(), obs, season)
	if err != nil {
		t.Fatal(err)
	}
	were, both, n := 0.0, 0.0, 0.0
	for _, y := range report.Season.Years {
		if e := deeper[(y.Year-2004+12)%12]; y.Readings >= leastOfYear {
			were, both, n = were+e*e, both+e*y.DeeperM, n+1
		}
	}
	if slope := both / were; n < 10 || slope < 0.85 || slope > 1.15 {
		t.Errorf("%v years stand at %.2f times their effects", n, slope)
	}
}
