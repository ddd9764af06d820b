package strata

import "waterstrike/geo/soil"

// row holds a number for each class; matrix one row for the class above, by the class
// below.
type (
	row    = [soil.Count]float64
	matrix [soil.Count]row
)

// forward returns the odds of the cell below one whose odds are given.
func (t *matrix) forward(above *row) (below row) {
	for j, p := range above {
		if p == 0 {
			continue
		}
		for k, q := range &t[j] {
			below[k] += p * q
		}
	}
	return below
}

// normalise makes a row of odds add up to 1 and returns its former sum; a row of zeros
// stays.
func normalise(odds *row) float64 {
	total := 0.0
	for _, p := range odds {
		total += p
	}
	if total > 0 {
		for k := range odds {
			odds[k] /= total
		}
	}
	return total
}

// certain gives all odds to one class.
func certain(class soil.Class) (odds row) {
	odds[class-1] = 1
	return odds
}

// heaviest returns the class with the highest odds, the first where several are equal.
func heaviest(odds row) soil.Class {
	best := 0
	for k, p := range odds {
		if p > odds[best] {
			best = k
		}
	}
	return soil.Class(best + 1)
}
