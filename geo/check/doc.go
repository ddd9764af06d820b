// Package check judges whether records are plausible: one bore against itself with
// [Bore], all of them against each other, their villages and their region with [Across].
//
// A finding names what looks wrong and leaves the record as it is. Every rule stands in
// [Rules] with its severity and where it comes from. A [geo.Doubt] is a contradiction or
// an outlier that a person should settle; a [geo.Note] is worth knowing, such as a short
// seal, and says nothing against the record.
//
// To add a rule: a code and a row in rules.go, its sentence and short name in the
// catalogue, and a function in the file of what it looks at.
package check
