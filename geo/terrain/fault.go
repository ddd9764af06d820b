package terrain

import (
	"fmt"

	"waterstrike/geo"
)

// FormatError says that a file is not what its format promises.
type FormatError struct {
	File string
	Line int // of a text, from 1; 0 where lines mean nothing
	Msg  string
}

// Error describes the fault.
func (e *FormatError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("%s, line %d: %s", e.File, e.Line, e.Msg)
	}
	return e.File + ": " + e.Msg
}

// UnsupportedError says that a file may be right but uses what is not read here.
type UnsupportedError struct {
	File, Msg string
}

// Error describes what is not read and what to do about it.
func (e *UnsupportedError) Error() string { return e.File + ": " + e.Msg }

// broken is a [FormatError] that does not know its file yet.
func broken(format string, args ...any) error { return &FormatError{Msg: fmt.Sprintf(format, args...)} }

// unread is an [UnsupportedError] that does not know its file yet.
func unread(format string, args ...any) error {
	return &UnsupportedError{Msg: fmt.Sprintf(format, args...)}
}

// refuse names the file in a fault of a reader and gives it its kind.
func refuse(file string, err error) error {
	switch e := err.(type) {
	case *FormatError:
		e.File = file
	case *UnsupportedError:
		e.File = file
	default:
		err = fmt.Errorf("%s: %w", file, err)
	}
	return geo.Fail(geo.Invalid, "terrain.Open", geo.Message{}, err)
}
