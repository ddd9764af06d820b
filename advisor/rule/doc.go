// Package rule holds what a rule of the trade is: a value with its source and a mark of
// how well it is known, one of several published answers where sources differ, and the
// files that a programme may edit.
//
// The program's own rules are embedded; a file of the same form in the rules folder of
// the data changes what it names and leaves the rest, so that a newer program brings
// newer defaults. A value that is changed without a source is shown as the programme's
// own. A wrong file is answered by a [Fault].
package rule
