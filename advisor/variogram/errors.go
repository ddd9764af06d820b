package variogram

import (
	"errors"
	"fmt"
)

// ErrTooFewData says that there are not enough distinct points for the question.
var ErrTooFewData = errors.New("too few distinct points: add data or widen the area")

// ErrNotFinite says that an input number is NaN or infinite.
var ErrNotFinite = errors.New("an input is not a finite number: remove that point or its value")

// ErrNoVariation says that all values are equal and none has a reading error, so
// that no variance can be estimated.
var ErrNoVariation = errors.New("all values are equal: give reading errors or a model by hand")

// ParameterError names a parameter outside its domain.
type ParameterError struct {
	Name  string
	Value float64
	Want  string
}

// Error says what is wrong and what to do.
func (e *ParameterError) Error() string {
	return fmt.Sprintf("%s is %g: want %s", e.Name, e.Value, e.Want)
}

// MaxCondition is the greatest condition number that is solved: beyond it fewer
// than four of a float's sixteen digits would be left.
const MaxCondition = 1e12

// ConditionError says that a covariance matrix is too near singular to be
// solved. Number is a lower bound of its condition number; about
// log10(Number) digits of an answer would have been lost.
type ConditionError struct {
	Number float64
}

// Error says what is wrong and what to do.
func (e *ConditionError) Error() string {
	return fmt.Sprintf("covariance matrix near singular (condition number at least %.3g): "+
		"merge points that nearly coincide or give them reading errors", e.Number)
}
