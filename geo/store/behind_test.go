package store

import (
	"errors"
	"slices"
	"testing"
)

// TestBehind: what is given is done in order; after a failure nothing more is, and every
// later call tells it instead of waiting for ever.
func TestBehind(t *testing.T) {
	b := newBehind()
	var done []int
	give := func(n int, err error) error {
		return b.do(func() error { done = append(done, n); return err })
	}
	for n := range 3 * behindSteps {
		if err := give(n, nil); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.wait(); err != nil || len(done) != 3*behindSteps || !slices.IsSorted(done) {
		t.Fatal(err, len(done))
	}
	full := errors.New("the disk is full")
	if err := give(-1, full); err != nil {
		t.Fatal("told before it was tried", err)
	}
	if err := b.wait(); !errors.Is(err, full) {
		t.Fatal(err)
	}
	if err := give(-2, nil); !errors.Is(err, full) {
		t.Fatal(err)
	}
	if err := errors.Join(b.wait(), b.close()); !errors.Is(err, full) || done[len(done)-1] != -1 {
		t.Fatal(err, done[len(done)-1])
	}
}
