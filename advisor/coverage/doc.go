// Package coverage counts what the work has achieved: who has water within the standard,
// what the bores came to beside what was foretold, what they cost, and how long points
// keep working. It sees places, points and dates, never a table or a page.
//
// # How a point is shared
//
// A point serves so many people and no more. Who comes first is settled by one rule: of
// all pairs of a village and a point within walking distance, the nearest pair is served
// first, then the next, each taking as many people as the village still has without water
// and the point can still take; pairs equally far apart go by the village's ID, then the
// point's. So a village drinks from its nearest point while there is room and sends the
// rest on to the next, and nobody is turned away from a point for somebody who lives
// farther from it. The outcome is the one stable allocation where villages prefer near
// points and points near villages (Gale and Shapley 1962: with one common order of pairs,
// taking them in that order leaves no pair that would both rather have each other). It
// does not depend on the order of the records.
//
// It is not the most people that the points could serve: that would send people past a
// near point to a far one so that others fit. No sharing of this kind serves fewer than
// half of that most (a maximal flow is at least half a maximum one).
//
// # Which points count
//
// A point counts on a day when it was built by then, was found working at the last visit
// up to then, is of a kind that the standard takes, is not dry in that month, and, where
// asked for, passed its last test of water. One that does not count says why, and a
// figure always returns the records it rests on.
package coverage
