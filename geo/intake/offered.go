package intake

import (
	"maps"
	"slices"
)

// Kinds lists the kinds of records that a proposal can make.
func Kinds() []string {
	return []string{"bores", "layers", "levels", "pipes", "villages", "water-points"}
}

// Meanings lists what columns of a kind of record may mean, in the order that people would
// look for them.
func Meanings(kind string) []string {
	known := meanings(kind)
	rank := func(meant string) int { return slices.Index(lookedFor, meant) }
	slices.SortStableFunc(known, func(a, b string) int { return rank(a) - rank(b) })
	return known
}

// lookedFor is the order of meanings for people.
var lookedFor = []string{
	"code", "name", "place", "lon", "lat", "east", "north", "zone", "ground", "started", "completed", "method", "outcome",
	"depth", "refusal", "strikes", "level", "measured", "reference", "yield", "top", "base", "words", "minutes", "piping",
	"material", "diameter", "people", "sort", "works", "users", "dry", "visited", "driller", "remarks",
}

// LengthUnits and RateUnits are the units that people are offered; "cell" stands for those
// that each cell names itself. A mapping may name others.
func LengthUnits() []string { return []string{"m", "ft", "cm", "mm", "in", "cell"} }

// RateUnits are those of yields.
func RateUnits() []string {
	return []string{"L/s", "L/min", "L/h", "m3/h", "m3/d", "gpm", "igpm", "cell"}
}

// DateForms lists the ways of writing a date that people are offered: the year first, the
// day first, the month first, either of these with years of two figures, which are those
// from 1950 to 2049, the year alone, a month by its name, a workbook's day number.
func DateForms() []string {
	return []string{"iso", "dmy", "mdy", "dmy" + shortYears, "mdy" + shortYears, "year", "month", "serial"}
}

const (
	shortYears = "-short"
	shortFrom  = 1950
)

// Encodings lists the character sets that texts are read in.
func Encodings() []string { return slices.Sorted(maps.Keys(encodings)) }
