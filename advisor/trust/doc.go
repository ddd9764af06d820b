// Package trust says whether the advisor keeps its word: it hides bores, asks what stands
// where they stood, and compares what was said with what was found.
//
// Everything is scored beside what a person without a model would say (the nearest bore,
// an average of eight, the region's own average), with the interval that the difference
// has when whole blocks of land are drawn again. Where a set is too small to tell, the
// account says so instead of giving a number.
//
// [Run] makes the cases from a snapshot; [Judge] scores cases wherever they come from, the
// exact truth of an invented region included.
package trust
