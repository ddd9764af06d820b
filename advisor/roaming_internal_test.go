package advisor

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Whatever way it goes, roaming finds the bores that a scan of all finds, in their order.
func TestRoamingAgainstScan(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	var bores []*evidence.Bore
	village := coord.LonLat{}
	for i := range 600 {
		if i%5 == 0 {
			village = coord.LonLat{Lon: rng.Float64(), Lat: rng.Float64()}
		}
		b := &evidence.Bore{ID: geo.BoreID(string(rune('a'+i%26)) + string(rune('a'+i/26))), Pos: village}
		if i%3 > 0 { // the others stand on their village
			b.Pos.Lon += 0.01 * rng.NormFloat64()
		}
		bores = append(bores, b)
	}
	bores = append(bores, &evidence.Bore{ID: "zz", Pos: coord.LonLat{Lon: 60, Lat: -20}})
	searched := 0
	scan := func(p coord.LonLat, n int) []evidence.Near {
		searched++
		var all []evidence.Near
		for _, b := range bores {
			all = append(all, evidence.Near{Bore: b, DistanceM: coord.DistanceM(p, b.Pos)})
		}
		slices.SortFunc(all, func(a, b evidence.Near) int {
			if a.DistanceM != b.DistanceM {
				return int(math.Copysign(1, a.DistanceM-b.DistanceM))
			}
			return int(math.Copysign(1, float64(slices.Compare([]byte(a.ID), []byte(b.ID)))))
		})
		return all[:min(n, len(all))]
	}
	r := roaming[geo.BoreID]{search: scan, n: 20, memory: map[*evidence.Bore]geo.BoreID{}, read: func(b *evidence.Bore) geo.BoreID { return b.ID }}
	at, asked := coord.LonLat{Lon: 0.5, Lat: 0.5}, 0
	for range 400 {
		switch rng.IntN(30) {
		case 0:
			at = coord.LonLat{Lon: rng.Float64(), Lat: rng.Float64()}
		case 1: // far from all bores
			at = coord.LonLat{Lon: 40 + rng.Float64(), Lat: -10}
			if r.near(at)[0].ID != "zz" {
				t.Fatal("far off another bore is nearest")
			}
			at, asked = coord.LonLat{Lon: 0.5, Lat: 0.5}, asked+1
		default:
			at.Lon += 0.004
		}
		got, want := r.near(at), scan(at, 20)
		asked++
		if len(got) != len(want) {
			t.Fatalf("at %v: %d bores", at, len(got))
		}
		for i, n := range want {
			if got[i].ID != n.ID || *got[i].says != n.ID || math.Abs(got[i].DistanceM-n.DistanceM) > 1e-6*n.DistanceM {
				t.Fatalf("at %v, bore %d: %s at %v m, want %s at %v m", at, i, got[i].ID, got[i].DistanceM, n.ID, n.DistanceM)
			}
		}
	}
	if searched -= 400; searched > asked/2 {
		t.Errorf("%d places took %d searches", asked, searched)
	}
}
