// Package say turns message codes with typed arguments into sentences in
// English, French and Portuguese, with each language's numbers, units and dates.
//
// The rest of the program speaks in codes ("reason.water-too-deep") and values
// (12.4 metres); this package is the only place where words for people stand.
//
// # Adding a message
//
// Open the file of the right subject under catalogue/ and add one entry with
// the three languages side by side:
//
//	"plan.carry": {
//	  "en": "Carry pipe for {depth}.",
//	  "fr": "Emporter des tubes pour {depth}.",
//	  "pt": "Levar tubos para {depth}."
//	},
//
// A placeholder is a name in braces. Names and what they carry are listed once,
// in catalogue/arguments.json; a new name is added there first. A word that
// depends on a count is chosen in place:
//
//	"{n} {n, one: bore, other: bores}"
//
// The forms are those of Unicode CLDR (one, many, other) plus "zero", which is
// taken for exactly 0 where given. Forms are plain text without a comma.
// Then run `go test ./ui/say -update` and read the three sentences in
// testdata/golden.txt.
//
// # Adding a language
//
// Add a constant and a row to the table in lang.go, then the language's text in
// every entry of catalogue/. [New] names each entry that lacks it.
package say
