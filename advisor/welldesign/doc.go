// Package welldesign turns expected ground into a well that yields safely, and a well that
// was built into what is wrong with it.
//
// [Design] works on one column of layers with its three water levels, one drilling method
// and one set of rules; [Forecast] repeats it over an ensemble of columns for quantities
// that are enough in half and in four fifths of them. What follows from a design stands
// each in a file of its own: the string of pipe, quantities, hours, curing, pump, dose of
// chlorine, distances, closing of a failed hole, papers. [Review] holds a finished bore to
// the same rules.
//
// Everything is a pure function of its arguments. The rules are data with source and mark
// ([DefaultRules]); a programme changes them in rules/well.json, pumps.json, prices.json
// and papers.json of its data folder. Answers are codes and numbers, never sentences.
package welldesign
