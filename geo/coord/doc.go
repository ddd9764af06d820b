// Package coord keeps positions: it reads them as people write them, moves
// them between datums and projections, and measures between them.
//
// Three kinds of position have three types, so the compiler keeps them apart:
// [LonLat] in degrees on WGS 84, [Projected] in metres of a named grid, and
// [XY] in metres of a local [Plane].
//
// To read: [ReadLonLat], [ReadPair], [ReadProjected]. They never guess: a text
// that can be understood in two ways is a [ReadError] with the code Ambiguous.
// Each [Reading] says what was written, which datum operation was used and how
// precise the text was.
//
// To measure: [DistanceM] and [BearingDeg] follow the true geodesic on the
// ellipsoid; [Plane] turns a neighbourhood into flat metres.
package coord
