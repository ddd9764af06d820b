// Package intake reads files of bores, layers, levels and villages into records.
//
// A [Mapping] says what each column of a file means; it is a file of its own that an
// office saves once and uses every season. [Read] streams the rows through it into a
// [Sink]. Nothing is dropped or changed in silence: every row is either applied or
// listed with a reason, a cell that cannot be read leaves its field missing and an
// issue behind, and ids come from the data set's own keys, so that the same file read
// twice adds nothing.
//
// [Propose] writes a first mapping: it reads column names in three languages (names.txt)
// and the cells below them, and leaves out what is not certain.
//
// To add a file format, write a file like csv.go that opens a [Rows] and name it in
// formats.
package intake
