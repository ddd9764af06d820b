// Package geo holds the records of the ground: bores and their parts, villages, water
// points, boundaries and rivers, where each came from, and the kinds of error and issue
// that every room above speaks in.
//
// Depths are metres below ground, positive down; elevations metres above a named datum;
// yields litres per second. What is not known is missing ([Opt]): never 0, never NaN.
// Records carry codes and numbers; sentences for people are made elsewhere.
package geo
