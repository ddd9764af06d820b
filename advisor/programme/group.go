package programme

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Place is a village on the map.
type Place struct {
	ID string
	At coord.LonLat
}

// Travel is how crews travel.
type Travel struct {
	Base    coord.LonLat
	ReachM  float64 // villages no farther than this from the middle one of a round belong to it
	PerKM   float64 // money a kilometre of road
	KMAWeek float64 // kilometres a crew travels in a week of doing nothing else
	Detour  float64 // road over straight line; 1.4 is common practice, no source
}

// Group puts villages into rounds: the village with most others within reach that are in
// no round yet is the middle of the next round and takes them all, ties by ID. A trip goes
// from the base to the middle and back. A round bears its middle's ID.
//
//   - Units: metres and kilometres as the crow flies, times the detour; money; weeks.
//   - Errors: [geo.Invalid] for a village twice and for numbers that are none above 0
//     (money: of 0 or more).
//   - Source: greedy set cover, Chvátal (1979), Math. Oper. Res. 4:233-235.
//   - Cost: the square of the number of villages.
//   - Checked by: TestGroupByHand.
func Group(places []Place, t Travel) (rounds []Round, of map[string]string, err error) {
	if !(t.ReachM > 0) || !amount(t.PerKM) || !(t.KMAWeek > 0) || !(t.Detour >= 1) || math.IsInf(t.ReachM+t.KMAWeek+t.Detour, 0) {
		return nil, nil, fail(geo.Invalid, "programme.bad-travel")
	}
	sorted := slices.Clone(places)
	slices.SortFunc(sorted, func(a, b Place) int { return cmp.Compare(a.ID, b.ID) })
	for i := 1; i < len(sorted); i++ {
		if sorted[i].ID == sorted[i-1].ID {
			return nil, nil, fail(geo.Invalid, "programme.village-twice", village(sorted[i].ID))
		}
	}
	near := neighbours(sorted, t.ReachM)
	of = map[string]string{}
	for len(of) < len(sorted) {
		middle, most := -1, 0
		for i := range sorted {
			n := 0
			for _, j := range near[i] {
				if of[sorted[j].ID] == "" {
					n++
				}
			}
			if of[sorted[i].ID] == "" && n > most {
				middle, most = i, n
			}
		}
		for _, j := range near[middle] {
			if of[sorted[j].ID] == "" {
				of[sorted[j].ID] = sorted[middle].ID
			}
		}
		km := 2 * t.Detour * coord.DistanceM(t.Base, sorted[middle].At) / 1000
		rounds = append(rounds, Round{ID: sorted[middle].ID, Cost: km * t.PerKM, Weeks: km / t.KMAWeek})
	}
	return rounds, of, nil
}

// neighbours lists for each place those within reach, itself included.
func neighbours(places []Place, reachM float64) [][]int {
	near := make([][]int, len(places))
	for i := range places {
		near[i] = append(near[i], i)
		for j := range i {
			if coord.DistanceM(places[i].At, places[j].At) <= reachM {
				near[i], near[j] = append(near[i], j), append(near[j], i)
			}
		}
	}
	return near
}
