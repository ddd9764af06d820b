package hydraulics

import (
	"errors"
	"fmt"
	"math"
)

// ErrDomain says that an input is outside the formula's domain. Every [InputError] is one.
var ErrDomain = errors.New("hydraulics: transmissivity, discharge, time, storage, radius and lengths must be above 0")

// ErrTooFew says that there are too few readings for the question.
var ErrTooFew = errors.New("hydraulics: too few readings: read more often or pump longer")

// ErrNoAnswer says that the readings agree with no value at all, such as a drawdown that
// falls while the pump runs.
var ErrNoAnswer = errors.New("hydraulics: no value explains these readings: check units, order and signs")

// ErrOpen says that the readings leave the answer open by more than a hundredfold.
var ErrOpen = errors.New("hydraulics: the readings leave the answer open by more than a hundredfold: pump longer or read more often")

// ErrDry says that the ground cannot give the discharge: the well would run dry.
var ErrDry = errors.New("hydraulics: the well would run dry: pump less or screen more ground")

// InputError names an input outside its domain.
type InputError struct {
	Name  string
	Value float64
	Want  string
}

// Error says what is wrong and what to do.
func (e *InputError) Error() string {
	return fmt.Sprintf("hydraulics: %s is %g: want %s", e.Name, e.Value, e.Want)
}

// Is makes every InputError an [ErrDomain].
func (e *InputError) Is(target error) bool { return target == ErrDomain }

// EarlyError says that the time is too short, or the distance too great, for a formula
// that holds late; U is r²S/4Tt.
type EarlyError struct {
	U float64
}

// Error says what is wrong and what to do.
func (e *EarlyError) Error() string {
	return fmt.Sprintf("hydraulics: u = %.3g is above %g: too early for a straight line, use Theis or pump longer", e.U, LooseU)
}

// named is an input with what it is called.
type named struct {
	name  string
	value float64
}

// positive returns an [InputError] for the first value that is not above 0 and finite.
func positive(all ...named) error {
	for _, n := range all {
		if !(n.value > 0) || math.IsInf(n.value, 0) {
			return &InputError{n.name, n.value, "a finite number above 0"}
		}
	}
	return nil
}

// finite lets a number out that is one.
func finite(v float64) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, ErrNoAnswer
	}
	return v, nil
}
