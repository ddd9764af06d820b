package advisor_test

import (
	"slices"
	"testing"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// What is said of the water, by results held against the guideline values of the World
// Health Organization (Guidelines for drinking-water quality, 4th edition with addenda:
// arsenic 0.01, fluoride 1.5, nitrate 50 mg/L, no E. coli in 100 mL; 1500 µS/cm is what
// people accept, from memory).
func TestQuality(t *testing.T) {
	all := func(arsenic, ec, coli float64) []geo.Sample {
		one := func(analyte, unit string, v float64) geo.Sample {
			return geo.Sample{Analyte: analyte, Unit: unit, Value: geo.Some(v)}
		}
		return []geo.Sample{
			one("arsenic", "mg/L", arsenic), one("fluoride", "mg/L", 0.5), one("ec", "uS/cm", ec), one("e-coli", "CFU/100mL", coli),
			{Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: geo.Some(10.0)},
		}
	}
	clean, poison, salt, dirty := all(0.001, 400, 0), all(0.05, 400, 0), all(0.001, 4000, 0), all(0.001, 400, 30)
	few := clean[:2]
	for name, c := range map[string]struct {
		samples [][]geo.Sample
		want    geo.Code
		says    geo.Code
	}{
		"nobody sampled":                     {nil, advisor.FitIsNotKnown, "quality.no-samples"},
		"three clean bores":                  {[][]geo.Sample{clean, clean, clean}, advisor.Fit, ""},
		"two are too few":                    {[][]geo.Sample{clean, clean}, advisor.FitIsNotKnown, "quality.too-few"},
		"three with two analytes only":       {[][]geo.Sample{few, few, few}, advisor.FitIsNotKnown, ""},
		"half of them poisoned":              {[][]geo.Sample{poison, clean, poison, clean}, advisor.NotFit, "quality.over-health"},
		"one poisoned among four is unknown": {[][]geo.Sample{poison, clean, clean, clean}, advisor.FitIsNotKnown, "quality.over-health"},
		"salt":                               {[][]geo.Sample{salt, salt, clean}, advisor.NotFit, "quality.over-acceptance"},
		"bacteria tell of the well":          {[][]geo.Sample{dirty, dirty, clean}, advisor.FitIsNotKnown, "quality.over-health"},
	} {
		t.Run(name, func(t *testing.T) {
			records := region(t, 200)
			for i, s := range c.samples {
				records.bores[i].Samples = s
				at := coord.LonLat{Lon: 0.2 + 0.001*float64(i), Lat: 0.2}
				records.bores[i].Position = geo.Some(coord.Reading{Pos: at})
			}
			out, err := newAdvisor(t, records).Advise(t.Context(), advisor.Question{At: coord.LonLat{Lon: 0.2, Lat: 0.2}})
			if err != nil {
				t.Fatal(err)
			}
			said := slices.ContainsFunc(out.Quality.Because, func(m geo.Message) bool { return m.Code == c.says })
			if out.Quality.Verdict != c.want || c.says != "" && !said {
				t.Errorf("%+v, want %s with %s", out.Quality, c.want, c.says)
			}
			if out.Quality.Bores != len(c.samples) {
				t.Errorf("%d bores sampled, want %d", out.Quality.Bores, len(c.samples))
			}
		})
	}
}
