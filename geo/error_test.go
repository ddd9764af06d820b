package geo_test

import (
	"errors"
	"fmt"
	"io"
	"testing"

	"waterstrike/geo"
)

func TestError(t *testing.T) {
	cause := fmt.Errorf("row 7: %w", io.ErrUnexpectedEOF)
	err := error(geo.Fail(geo.Invalid, "intake.Read", geo.Say("issue.short", geo.With("row", geo.Count(7))), cause))
	wrapped := fmt.Errorf("import: %w", err)
	if !errors.Is(wrapped, io.ErrUnexpectedEOF) {
		t.Error("the cause is lost")
	}
	var found *geo.Error
	if !errors.As(wrapped, &found) || found.Op != "intake.Read" || found.Message.Code != "issue.short" {
		t.Errorf("found %+v", found)
	}
	if geo.KindOf(wrapped) != geo.Invalid {
		t.Errorf("kind %v", geo.KindOf(wrapped))
	}
	if got, want := err.Error(), "intake.Read: invalid (issue.short row=7): row 7: unexpected EOF"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestErrorShort(t *testing.T) {
	err := geo.Fail(geo.NotFound, "store.Bore", geo.Message{}, nil)
	if got, want := err.Error(), "store.Bore: not found"; got != want || errors.Unwrap(err) != nil {
		t.Errorf("%q, %v", got, errors.Unwrap(err))
	}
}

// The outermost kind is what a face answers: it was chosen by who knew more.
func TestKindOf(t *testing.T) {
	inner := geo.Fail(geo.NotFound, "store.Bore", geo.Message{}, nil)
	for _, c := range []struct {
		name string
		err  error
		want geo.Kind
	}{
		{"own", inner, geo.NotFound},
		{"outermost", geo.Fail(geo.Conflict, "store.Undo", geo.Message{}, inner), geo.Conflict},
		{"joined", errors.Join(io.EOF, inner), geo.NotFound},
		{"foreign", io.EOF, geo.Internal},
	} {
		if got := geo.KindOf(c.err); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestCause takes off what is for developers; what a sentence wraps stays in it.
func TestCause(t *testing.T) {
	inner := geo.Fail(geo.Invalid, "store.OpenForeign", geo.Message{}, io.EOF)
	sentence := fmt.Errorf("a.csv: %w", inner)
	for _, c := range []struct {
		name      string
		err, want error
	}{
		{"foreign", io.EOF, io.EOF},
		{"one", inner, io.EOF},
		{"two", geo.Fail(geo.Invalid, "intake.Read", geo.Message{}, inner), io.EOF},
		{"joined with none", errors.Join(nil, inner), io.EOF},
		{"sentence", geo.Fail(geo.Invalid, "intake.Read", geo.Message{}, sentence), sentence},
	} {
		if got := geo.Cause(c.err); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if bare := geo.Fail(geo.NotFound, "store.Bore", geo.Message{}, nil); geo.Cause(bare) != error(bare) {
		t.Errorf("without a cause: %v", geo.Cause(bare))
	}
}

func TestKindNames(t *testing.T) {
	seen := map[string]bool{}
	for k := geo.Internal; k <= geo.Newer; k++ {
		if name := k.String(); name == "" || seen[name] || name == fmt.Sprintf("kind(%d)", uint8(k)) {
			t.Errorf("kind %d is called %q", k, name)
		}
		seen[k.String()] = true
	}
	if got := (geo.Newer + 1).String(); got != "kind(7)" {
		t.Errorf("a kind beyond the list is called %q", got)
	}
}
