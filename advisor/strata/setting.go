package strata

// Setting is the shape of the land at a place, as terms that its layers may follow: numbers
// in any unit, the same ones in the same order at every place. The nil Setting is not known.
type Setting []float64
