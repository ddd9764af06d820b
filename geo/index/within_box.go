package index

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"waterstrike/geo/coord"
)

// WithinBox returns the entries inside a box of longitudes and latitudes in
// degrees, edges included, in order of ID. A box whose west edge is greater than
// its east edge crosses the antimeridian, as in RFC 7946 section 5.2; longitudes
// -180 and 180 are the same meridian.
//
//   - Checked by: TestWithinBoxAgainstScan.
func (ix *Index) WithinBox(b orb.Bound) []Entry {
	found, _ := ix.WithinBoxUpTo(b, math.MaxInt)
	return found
}

// WithinBoxUpTo is [Index.WithinBox] as long as the box holds fewer than most entries;
// otherwise it gives up and returns false.
//
//   - Checked by: TestWithinBoxAgainstScan.
func (ix *Index) WithinBoxUpTo(b orb.Bound, most int) ([]Entry, bool) {
	var found []Entry
	for _, span := range spans(b.Min.Lon(), b.Max.Lon()) {
		low, _ := box(coord.LonLat{Lon: span[0], Lat: b.Min.Lat()})
		_, high := box(coord.LonLat{Lon: span[1], Lat: b.Max.Lat()})
		ix.tree.Search(low, high, func(_, _ [2]float32, slot int32) bool {
			e := ix.slots.at(slot)
			if span.holds(e.Pos.Lon) && e.Pos.Lat >= b.Min.Lat() && e.Pos.Lat <= b.Max.Lat() {
				found = append(found, *e)
			}
			return len(found) < most
		})
		if len(found) >= most {
			return nil, false
		}
	}
	slices.SortFunc(found, func(a, b Entry) int { return cmp.Compare(a.ID, b.ID) })
	return slices.CompactFunc(found, func(a, b Entry) bool { return a.ID == b.ID }), true
}

// span is a range of longitudes, west <= east.
type span [2]float64

func (s span) holds(lon float64) bool { return lon >= s[0] && lon <= s[1] }

// spans cuts a range of longitudes at the antimeridian; where it touches it, the
// same meridian's other name is added.
func spans(west, east float64) []span {
	out := []span{{west, east}}
	if west > east {
		out = []span{{west, 180}, {-180, east}}
	}
	if east == 180 {
		out = append(out, span{-180, -180})
	}
	if west == -180 {
		out = append(out, span{180, 180})
	}
	return out
}
