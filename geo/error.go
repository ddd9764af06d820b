package geo

import (
	"errors"
	"fmt"
)

// Kind says what sort of failure an error is, so that each face can answer it in its
// own way. Add only to the end.
type Kind uint8

// The kinds of failure.
const (
	Internal   Kind = iota // a broken promise of the program itself
	Invalid                // the input is wrong; the message says what to change
	NotFound               // no such record, place or file
	Conflict               // the state has moved on; read again and decide
	TooFewData             // not enough evidence to answer at all
	Unsolvable             // the numbers admit no answer
	Newer                  // written by a newer program; upgrade before opening
)

var kindNames = [...]string{"internal", "invalid", "not found", "conflict", "too few data", "unsolvable", "newer"}

// String names the kind.
func (k Kind) String() string {
	if int(k) >= len(kindNames) {
		return fmt.Sprintf("kind(%d)", uint8(k))
	}
	return kindNames[k]
}

// Error is a failure with its kind, the operation that met it, and a message for people.
type Error struct {
	Kind    Kind
	Op      string  // such as "store.Open"
	Message Message // what is wrong and what to do; may be empty
	Err     error   // the cause; may be nil
}

// Error describes the failure in English, for logs and developers.
func (e *Error) Error() string {
	text := e.Op + ": " + e.Kind.String()
	if e.Message.Code != "" {
		text += " (" + e.Message.String() + ")"
	}
	if e.Err != nil {
		text += ": " + e.Err.Error()
	}
	return text
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Fail builds an [Error].
func Fail(kind Kind, op string, message Message, cause error) *Error {
	return &Error{Kind: kind, Op: op, Message: message, Err: cause}
}

// Cause returns what went wrong below the errors of this package that begin err: the part
// that is for people, where there is no message. One error that stands joined with none is
// that error.
func Cause(err error) error {
	switch e := err.(type) { //nolint:errorlint // what is wrapped further in stays in its sentence
	case *Error:
		if e.Err != nil {
			return Cause(e.Err)
		}
	case interface{ Unwrap() []error }:
		if all := e.Unwrap(); len(all) == 1 {
			return Cause(all[0])
		}
	}
	return err
}

// KindOf returns the kind of err; anything that is not an [Error] is [Internal].
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}
