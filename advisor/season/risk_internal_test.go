package season

import (
	"math"
	"os"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
)

// The risk of unfit water against water that is known exactly: over all places it is as large
// as the share that is unfit, it tells no worse than that share does, and places of a high one
// are more often unfit than those of a low one. Two regions; ten in the long run.
func TestRiskAgainstTheLand(t *testing.T) {
	regions, off := uint64(2), 0.04
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		regions, off = 10, 0.02
	}
	edges := []float64{0, 0.05, 0.15, 1}
	var places, unfit [3]int
	var said [3]float64
	n, bad, sum, score := 0.0, 0.0, 0.0, 0.0
	for seed := range regions {
		land := demoland.New(seed + 101)
		w := watersOf(land.Records().Bores)
		for _, at := range append(land.VillageSites(100, 2), land.UniformSites(100, 1)...) {
			risk, known := w.risk(at).Get()
			if !known {
				t.Fatalf("seed %d: no risk, though all was tested", seed+101)
			}
			found := 0.0
			if !drinkable(land.Quality(at, land.Column(at).NormalLowM+5)) {
				found = 1
			}
			for i := range places {
				if risk >= edges[i] && risk < edges[i+1] {
					places[i], unfit[i], said[i] = places[i]+1, unfit[i]+int(found), said[i]+risk
				}
			}
			n, bad, sum, score = n+1, bad+found, sum+risk, score+(risk-found)*(risk-found)
		}
	}
	base := bad / n
	for i := range places {
		t.Logf("from %.2f: %d places, said %.3f, unfit %.3f", edges[i], places[i], said[i]/float64(max(1, places[i])), float64(unfit[i])/float64(max(1, places[i])))
	}
	t.Logf("all: %.0f places, said %.4f, unfit %.4f; Brier %.4f, of the share alone %.4f", n, sum/n, base, score/n, base*(1-base))
	if math.Abs(sum/n-base) > off {
		t.Errorf("said %.3f, unfit %.3f", sum/n, base)
	}
	if score/n > 1.05*base*(1-base) {
		t.Errorf("Brier %.4f, of the share alone %.4f", score/n, base*(1-base))
	}
	if unfit[2]*places[0] <= unfit[0]*places[2] {
		t.Errorf("unfit %d of %d where the risk is high, %d of %d where it is low", unfit[2], places[2], unfit[0], places[0])
	}
}

// drinkable holds what is dissolved in water against the limits: for health, and of salt what
// people accept.
func drinkable(q demoland.Quality) bool {
	for _, s := range []geo.Sample{
		{Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: geo.Some(q.NitrateMgL)},
		{Analyte: "arsenic", Unit: "mg/L", Value: geo.Some(q.ArsenicMgL)},
		{Analyte: "fluoride", Unit: "mg/L", Value: geo.Some(q.FluorideMgL)},
	} {
		if v, _ := geo.JudgeAs(geo.HealthLimit, s); v != geo.Within {
			return false
		}
	}
	v, _ := geo.JudgeAs(geo.AcceptLimit, geo.Sample{Analyte: "ec", Unit: "uS/cm", Value: geo.Some(q.ECuScm)})
	return v == geo.Within
}

// Three bores at one spot, tested for the four analytes, one of them with too much arsenic,
// and all three with bacteria. By hand: shares (1 + 1/4) / (3 + 2/4) and three times
// (1/4) / (3 + 2/4); at the spot r = (1 + 2·0.35714) / 5 and three times 2·0.07143 / 5;
// 1 - (1 - 0.342857)(1 - 0.0285714)³ = 0.39755. Far away the shares alone:
// 1 - (1 - 0.35714)(1 - 0.07143)³ = 0.48529.
func TestRiskByHand(t *testing.T) {
	bottle := func(arsenic float64) []geo.Sample {
		return []geo.Sample{
			{Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: geo.Some(5.0)},
			{Analyte: "arsenic", Unit: "mg/L", Value: geo.Some(arsenic)},
			{Analyte: "fluoride", Unit: "mg/L", Value: geo.Some(0.5)},
			{Analyte: "ec", Unit: "uS/cm", Value: geo.Some(300.0)},
			{Analyte: "e-coli", Unit: "CFU/100mL", Value: geo.Some(12.0)},
		}
	}
	at := coord.LonLat{Lon: 0.1, Lat: 0.1}
	var bores []geo.Bore
	for _, arsenic := range []float64{0.001, 0.05, 0.002} {
		bores = append(bores, geo.Bore{Position: geo.Some(coord.Reading{Pos: at}), Samples: bottle(arsenic)})
	}
	w := watersOf(bores)
	for _, c := range []struct {
		at   coord.LonLat
		want float64
	}{{at, 0.39755}, {coord.LonLat{Lon: 9, Lat: 9}, 0.48529}} {
		if got := w.risk(c.at).Or(-1); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("risk at %v: %.5f, want %.5f", c.at, got, c.want)
		}
	}
	if w.bacteria != (Bacteria{Bores: 3, Found: 3}) {
		t.Errorf("bacteria: %+v", w.bacteria)
	}
	w = watersOf(bores[:2])
	if risk := w.risk(at); risk.Known() {
		t.Errorf("two bores tell a risk: %v", risk)
	}
}
