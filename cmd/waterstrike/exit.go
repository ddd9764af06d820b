package main

import (
	"context"
	"errors"
	"io/fs"
	"syscall"

	"waterstrike/geo"
)

// The exit codes. They are part of the interface: scripts read them, so add only.
const (
	exitDone        = 0
	exitInternal    = 1 // a fault of the program
	exitInvalid     = 2 // arguments or input are wrong; the message says what to change
	exitNotFound    = 3 // no such file, place or record
	exitConflict    = 4 // the state has moved on, or a file stands in the way
	exitTooFew      = 5 // not enough data for an answer at all
	exitNewer       = 6 // the file was written by a newer program
	exitDoubtful    = 7 // a check found something doubtful
	exitInterrupted = 130
)

// exitOf maps an error to its exit code.
func exitOf(err error) int {
	if err == nil {
		return exitDone
	}
	if errors.Is(err, context.Canceled) {
		return exitInterrupted
	}
	if errors.Is(err, errDoubtful) {
		return exitDoubtful
	}
	if errors.Is(err, fs.ErrNotExist) {
		return exitNotFound
	}
	if unwritable(err) {
		return exitConflict
	}
	switch geo.KindOf(err) {
	case geo.Invalid:
		return exitInvalid
	case geo.NotFound:
		return exitNotFound
	case geo.Conflict:
		return exitConflict
	case geo.TooFewData, geo.Unsolvable:
		return exitTooFew
	case geo.Newer:
		return exitNewer
	}
	return exitInternal
}

// exit reports a failed command and returns its exit code.
func (a *app) exit(err error) int {
	code := exitOf(err)
	if err != nil && a.ctx.Err() != nil {
		code = exitInterrupted // whatever failed, it failed because it was to end
	}
	if code == exitDone || code == exitDoubtful {
		return code
	}
	var failure *geo.Error
	var file *fs.PathError
	switch {
	case code == exitInterrupted:
		a.complain(geo.Say("command.interrupted"))
	case errors.As(err, &failure) && failure.Message.Code != "":
		a.complain(failure.Message)
	case code == exitNotFound && errors.As(err, &file):
		a.complain(geo.Say("problem.file-not-found", geo.With("file", geo.Text(file.Path))))
	case unwritable(err) && errors.As(err, &file):
		a.complain(geo.Say("problem.not-writable", geo.With("file", geo.Text(file.Path))))
	default:
		a.complain(geo.Say("command.failed", geo.With("value", geo.Text(geo.Cause(err).Error()))))
	}
	return code
}

// unwritable tells that a file or folder may not be read or written.
func unwritable(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}
