package geo_test

import (
	"math"
	"testing"

	"waterstrike/geo"
)

// The rule and the two guideline values (50 mg/L nitrate as NO3, 3 mg/L nitrite as NO2) are
// those of the World Health Organization, Guidelines for drinking-water quality, 4th
// edition; the rule itself from memory. Factors as in TestAnalyteIn.
func TestJudgeTogether(t *testing.T) {
	some := geo.Some[float64]
	nitrate := func(v float64, basis string) geo.Sample {
		return geo.Sample{Analyte: "nitrate", Unit: "mg/L", Basis: basis, Value: some(v)}
	}
	nitrite := func(v float64, basis string) geo.Sample {
		return geo.Sample{Analyte: "nitrite", Unit: "mg/L", Basis: basis, Value: some(v)}
	}
	below := func(analyte string, limit float64) geo.Sample {
		return geo.Sample{Analyte: analyte, Unit: "mg/L", Basis: map[string]string{"nitrate": "NO3", "nitrite": "NO2"}[analyte], DetectionLimit: some(limit)}
	}
	for _, tt := range []struct {
		name   string
		bottle []geo.Sample
		want   geo.Verdict
		sum    float64 // of the message; 0: none
	}{
		{"half and half", []geo.Sample{nitrate(25, "NO3"), nitrite(1.5, "NO2")}, geo.Within, 1},
		{"each within, together not", []geo.Sample{nitrate(40, "NO3"), nitrite(1.5, "NO2")}, geo.Above, 1.3},
		{"as nitrogen", []geo.Sample{nitrate(5, "N"), nitrite(0.6, "N")}, geo.Above, 5*4.4266/50 + 0.6*3.2844/3},
		{"one is too much", []geo.Sample{nitrate(60, "NO3")}, geo.Above, 1.2},
		{"one is missing", []geo.Sample{nitrate(40, "NO3")}, geo.NotKnown, 0},
		{"not found", []geo.Sample{nitrate(40, "NO3"), below("nitrite", 0.03)}, geo.Within, 0.81},
		{"not found by a coarse test", []geo.Sample{nitrate(40, "NO3"), below("nitrite", 3)}, geo.NotKnown, 0},
		{"basis not said", []geo.Sample{nitrate(20, ""), nitrite(0.1, "NO2")}, geo.NotKnown, 0},
		{"basis not said and of no weight", []geo.Sample{nitrate(2, ""), nitrite(0.1, "")}, geo.Within, 2*4.4266/50 + 0.1*3.2844/3},
		{"the highest counts", []geo.Sample{nitrate(1, "NO3"), nitrate(40, "NO3"), nitrite(1.5, "NO2")}, geo.Above, 1.3},
		{"other analytes", []geo.Sample{{Analyte: "iron", Unit: "mg/L", Value: some(9)}}, geo.NotKnown, 0},
		{"a unit of something else", []geo.Sample{{Analyte: "nitrate", Unit: "uS/cm", Value: some(9)}, nitrite(1, "NO2")}, geo.NotKnown, 0},
		{"nothing", nil, geo.NotKnown, 0},
	} {
		got, message := geo.JudgeTogether(tt.bottle)
		sum := 0.0
		if len(message.Args) > 0 {
			sum = float64(message.Args[0].Value.(geo.Number))
		}
		const rounding = 1e-12
		if got != tt.want || math.Abs(sum-tt.sum) > rounding || message.Code == "" {
			t.Errorf("%s: %s by %v, want %s by %g", tt.name, got, message, tt.want, tt.sum)
		}
	}
}
