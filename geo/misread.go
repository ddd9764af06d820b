package geo

import (
	"errors"

	"waterstrike/geo/coord"
)

// Misread is the error of a text that was to be a position, by the way in which it is none:
// nobody can read it, it may mean several, or it lies off the globe.
//
//   - Errors: always one, of kind [Invalid], with the reader's own as its cause.
//   - Checked by: TestMisread.
func Misread(op, text string, err error) *Error {
	code := Code("problem.bad-position")
	var why *coord.ReadError
	if errors.As(err, &why) {
		switch why.Code {
		case coord.OutOfRange:
			code = "problem.position-off-globe"
		case coord.Ambiguous, coord.NoHemisphere:
			code = "problem.ambiguous-position"
		}
	}
	return Fail(Invalid, op, Say(code, With("value", Text(text))), err)
}
