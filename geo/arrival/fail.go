package arrival

import (
	"errors"
	"io/fs"
	"syscall"

	"waterstrike/geo"
)

// unwritten says of a failure to write what people can do about it.
func unwritten(op string, err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, syscall.ENOSPC):
		return geo.Fail(geo.Conflict, op, geo.Say("store.disk-full"), err)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return geo.Fail(geo.Conflict, op, geo.Say("arrival.read-only"), err)
	}
	return geo.Fail(geo.Internal, op, geo.Message{}, err)
}

func busy(op string) error { return geo.Fail(geo.Conflict, op, geo.Say("arrival.busy"), nil) }

// told is what is kept of a failure for people: its own message, or what the reader said
// was wrong with the files.
func told(err error) geo.Message {
	var failure *geo.Error
	if !errors.As(err, &failure) {
		return geo.Say("problem.internal")
	}
	switch {
	case failure.Message.Code != "":
		return failure.Message
	case failure.Kind == geo.Invalid && failure.Err != nil:
		return geo.Say("arrival.not-read", geo.With("value", geo.Text(geo.Cause(err).Error())))
	}
	return geo.Say("problem.internal")
}
