package trust

import (
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// outcomeTellers are the tellers of chances other than the advisor, over one snapshot.
type outcomeTellers struct {
	snapshot *evidence.Snapshot
	base     map[geo.Method]float64
}

func newOutcomeTellers(s *evidence.Snapshot) *outcomeTellers {
	t := &outcomeTellers{snapshot: s, base: map[geo.Method]float64{}}
	known, worked := map[geo.Method]float64{}, map[geo.Method]float64{}
	for _, b := range s.Bores() {
		if b.Outcome != geo.OutcomeUnknown {
			known[b.Method]++
			if b.Outcome == geo.Producing {
				worked[b.Method]++
			}
		}
	}
	for m, n := range known {
		t.base[m] = (worked[m] + 0.5) / (n + 1)
	}
	return t
}

// searched is how many bores are looked through for eight by the same method.
const searched = 100

// say returns the chance by everybody but the advisor, in the order of [OutcomeTellers],
// and the distance to the nearest bore.
func (t *outcomeTellers) say(at coord.LonLat, m geo.Method) (base, eightNearest, nearestM float64) {
	base, ok := t.base[m]
	if !ok {
		base = 0.5
	}
	near := t.snapshot.Nearest(at, searched)
	n, worked := 0.0, base // the base rate counts as a ninth bore
	for _, b := range near {
		if b.Method == m && b.Outcome != geo.OutcomeUnknown && n < eight {
			n++
			if b.Outcome == geo.Producing {
				worked++
			}
		}
	}
	if len(near) > 0 {
		nearestM = near[0].DistanceM
	}
	return base, worked / (n + 1), nearestM
}
