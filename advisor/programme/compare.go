package programme

import (
	"maps"
	"reflect"
	"slices"

	"waterstrike/geo"
)

// Difference is what a second programme does otherwise than a first.
type Difference struct {
	Added     []string         `json:"added,omitempty"`   // villages in the second alone
	Dropped   []string         `json:"dropped,omitempty"` // in the first alone
	Changed   []string         `json:"changed,omitempty"` // in both, by other attempts or in another window
	People    float64          `json:"people"`            // expected, the second's more
	Money     float64          `json:"money"`
	Weeks     float64          `json:"weeks"`
	Districts []DistrictChange `json:"districts,omitempty"` // that differ, by name
	// Better is the share of the scenarios in which the second serves more, a tie counting
	// half; missing unless both were judged by the same number of them.
	Better geo.Opt[float64] `json:"better,omitzero"`
}

// DistrictChange is what one district gets more, or less below 0.
type DistrictChange struct {
	Name     string  `json:"name"`
	Villages int     `json:"villages"`
	People   float64 `json:"people"`
}

// Compare holds a second programme against a first one. Both should be of the same
// villages: a village that one of them does not know counts as out of it.
//
//   - Checked by: TestCompareByHand.
func Compare(first, second *Programme) Difference {
	d := Difference{People: second.People - first.People, Money: second.Money - first.Money}
	a, b := first.byVillage(), second.byVillage()
	for _, id := range slices.Sorted(maps.Keys(b)) {
		switch other, both := a[id]; {
		case !both:
			d.Added = append(d.Added, id)
		case other.Window != b[id].Window || !sameTries(other, b[id]):
			d.Changed = append(d.Changed, id)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(a)) {
		if _, both := b[id]; !both {
			d.Dropped = append(d.Dropped, id)
		}
	}
	for _, w := range second.Windows {
		d.Weeks += w.Weeks
	}
	for _, w := range first.Windows {
		d.Weeks -= w.Weeks
	}
	d.Districts = districtChanges(first.Districts, second.Districts)
	d.Better = better(first.Cases, second.Cases)
	return d
}

func (p *Programme) byVillage() map[string]Pick {
	out := map[string]Pick{}
	for _, pick := range p.Picks {
		out[pick.Village] = pick
	}
	return out
}

func sameTries(a, b Pick) bool { return reflect.DeepEqual(a.Tries, b.Tries) }

func districtChanges(first, second []District) (out []DistrictChange) {
	by := map[string]*DistrictChange{}
	add := func(list []District, sign int) {
		for _, x := range list {
			if by[x.Name] == nil {
				by[x.Name] = &DistrictChange{Name: x.Name}
			}
			by[x.Name].Villages += sign * x.Villages
			by[x.Name].People += float64(sign) * x.People
		}
	}
	add(first, -1)
	add(second, 1)
	for _, name := range slices.Sorted(maps.Keys(by)) {
		if c := by[name]; c.Villages != 0 || c.People != 0 {
			out = append(out, *c)
		}
	}
	return out
}

func better(first, second []float64) geo.Opt[float64] {
	if len(first) < leastCases || len(first) != len(second) {
		return geo.Opt[float64]{}
	}
	wins := 0.0
	for s, z := range second {
		switch {
		case z > first[s]:
			wins++
		case z == first[s]:
			wins += 0.5
		}
	}
	return geo.Some(wins / float64(len(first)))
}
