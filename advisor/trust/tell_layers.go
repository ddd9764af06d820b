package trust

import (
	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/strata"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// layerTellers are the tellers of layers other than the advisor, over one snapshot.
type layerTellers struct {
	snapshot *evidence.Snapshot
	profile  counts
}

// counts are how often each class was logged, by cell.
type counts [strata.Cells][soil.Count]float64

// How many logs are read for the region's profile, and how far the eight nearest are
// looked for among logs that may end above a cell.
const (
	profileOf  = 4000
	eight      = 8
	lookedAt   = 64
	likeOthers = 0.1 // share of other classes in what the nearest log says
)

func newLayerTellers(s *evidence.Snapshot) *layerTellers {
	t := &layerTellers{snapshot: s}
	for _, b := range s.SampleDescribed(profileOf) {
		t.profile.add(advisor.LogOf(b))
	}
	for i := range t.profile {
		// Half a log of every class: what was never seen stays possible.
		for k := range t.profile[i] {
			t.profile[i][k] += 0.5
		}
		normalise(&t.profile[i])
	}
	return t
}

func (c *counts) add(log strata.Log) {
	for i, class := range log.Cells[:min(len(log.Cells), strata.Cells)] {
		if class != soil.Unknown {
			c[i][class-1]++
		}
	}
}

func normalise(row *[soil.Count]float64) {
	total := 0.0
	for _, v := range row {
		total += v
	}
	for k := range row {
		row[k] /= total
	}
}

// say returns the columns of everybody but the advisor, in the order of [LayerTellers]:
// the nearest log that reaches a depth, the region's profile at that depth, and the eight
// nearest logs that reach it together with the profile as a ninth.
func (t *layerTellers) say(at coord.LonLat) (nearest, region, eightNearest *counts) {
	nearest, eightNearest = new(counts), new(counts)
	var seen [strata.Cells]int
	for _, n := range t.snapshot.NearestDescribed(at, lookedAt) {
		log := advisor.LogOf(n.Bore)
		for i, class := range log.Cells[:min(len(log.Cells), strata.Cells)] {
			if class == soil.Unknown || seen[i] == eight {
				continue
			}
			if seen[i] == 0 {
				nearest[i][class-1] = 1 - likeOthers
			}
			seen[i]++
			eightNearest[i][class-1]++
		}
	}
	for i := range seen {
		left := likeOthers
		if seen[i] == 0 {
			left = 1
		}
		for k, p := range t.profile[i] {
			nearest[i][k] += left * p
			eightNearest[i][k] += p
		}
		normalise(&eightNearest[i])
	}
	return nearest, &t.profile, eightNearest
}
