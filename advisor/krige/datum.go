package krige

import (
	"fmt"
	"math"

	"waterstrike/advisor/variogram"
)

// XY is a position in a projected plane, in metres.
type XY = variogram.XY

// Datum is one value at one place.
type Datum struct {
	XY
	Value  float64
	ErrVar float64   // variance of this datum's reading error, squared value units; 0 if exact
	Drift  []float64 // what a universal trend depends on here; nil otherwise
}

// Estimate is a prediction of the ground.
type Estimate struct {
	Mean     float64
	Variance float64 // micro-scale variance included, reading error not
}

// DuplicateError names two exact data at one place: they contradict each other or
// one is superfluous. [Merge] them or give them reading errors.
type DuplicateError struct {
	I, J int // indices into the data handed over, I < J
}

// Error says what is wrong and what to do.
func (e *DuplicateError) Error() string {
	return fmt.Sprintf("data %d and %d are at the same place without reading error: "+
		"merge them or give them error variances", e.I, e.J)
}

// TooFewError says that fewer data are in reach than asked for.
type TooFewError struct {
	Have, Need int
}

// Error says what is wrong and what to do.
func (e *TooFewError) Error() string {
	return fmt.Sprintf("%d data in reach, %d needed: widen the search or add data", e.Have, e.Need)
}

// Unwrap makes errors.Is(err, variogram.ErrTooFewData) true.
func (e *TooFewError) Unwrap() error { return variogram.ErrTooFewData }

func finite(v float64) bool { return v-v == 0 }

// check refuses what would turn into NaN further on.
func (d *Datum) check() error {
	if !d.Finite() || !finite(d.Value) {
		return variogram.ErrNotFinite
	}
	if !(d.ErrVar >= 0) || math.IsInf(d.ErrVar, 1) {
		return &variogram.ParameterError{Name: "error variance", Value: d.ErrVar, Want: "a finite number, 0 or above"}
	}
	return nil
}
