package index

import "waterstrike/geo/coord"

// NearestFunc yields entries in order of true distance from p, equal distances
// in order of ID, until there are no more or yield returns false.
//
//   - Units: DistanceM in metres, [coord.DistanceM] exactly.
//   - Domain: any valid p; poles and antimeridian are ordinary places.
//   - Errors: none.
//   - Cost: see BenchmarkNearest; the entries yielded and a few more are measured.
//   - Source: best-first search, Hjaltason and Samet (1999), Distance browsing in
//     spatial databases; entries wait in a second queue until no box can hold a
//     nearer one.
//   - Checked by: TestNearestAgainstScan, FuzzNearest.
func (ix *Index) NearestFunc(p coord.LonLat, yield func(Hit) bool) {
	from := boundFrom(p)
	var waiting pending
	more := true
	ix.tree.Nearby(
		func(low, high [2]float32, _ int32, _ bool) float64 { return from.haversine(low, high) },
		func(_, _ [2]float32, slot int32, haversine float64) bool {
			for more && waiting.before(haversine) {
				more = yield(waiting.pop())
			}
			e := ix.slots.at(slot)
			waiting.push(Hit{Entry: *e, DistanceM: coord.DistanceM(p, e.Pos)})
			return more
		})
	for more && len(waiting) > 0 {
		more = yield(waiting.pop())
	}
}

// Nearest appends to dst the n entries nearest to p, fewer if there are fewer, in
// the order of [Index.NearestFunc], and returns the extended slice.
//
//   - Checked by: TestNearestAgainstScan.
func (ix *Index) Nearest(p coord.LonLat, n int, dst []Hit) []Hit {
	if n <= 0 {
		return dst
	}
	end := len(dst) + n
	ix.NearestFunc(p, func(h Hit) bool {
		dst = append(dst, h)
		return len(dst) < end
	})
	return dst
}

// Within returns the entries no farther than radiusM metres from p, in the order
// of [Index.NearestFunc].
//
//   - Checked by: TestWithinAgainstScan.
func (ix *Index) Within(p coord.LonLat, radiusM float64) []Hit {
	var hits []Hit
	ix.NearestFunc(p, func(h Hit) bool {
		if !(h.DistanceM <= radiusM) {
			return false
		}
		hits = append(hits, h)
		return true
	})
	return hits
}
