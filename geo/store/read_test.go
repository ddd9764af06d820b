package store_test

import (
	"context"
	"errors"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store/storetest"
)

func TestWalkEndsWithItsContext(t *testing.T) {
	b := newBase(t)
	for i := range 30 {
		must(t, b.SaveBore(context.Background(), storetest.FullBore(i), me))
	}
	ctx, cancel := context.WithCancel(context.Background())
	n := 0
	err := b.Bores(ctx, func(geo.Bore) error {
		if n++; n == 3 {
			cancel()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || n > 30 {
		t.Errorf("after %d bores: %v", n, err)
	}
	must(t, b.Bores(context.Background(), func(geo.Bore) error { return nil })) // no connection was lost
}

// Many walks at once, and walks inside walks, must not starve each other of connections.
func TestWalksInsideWalks(t *testing.T) {
	b := newBase(t)
	for i := range 5 {
		must(t, b.SaveBore(context.Background(), storetest.FullBore(i), me))
	}
	n := 0
	must(t, b.Bores(context.Background(), func(v geo.Bore) error {
		same(t, bore(t, b, v.ID), v)
		n++
		return nil
	}))
	if n != 5 {
		t.Errorf("%d bores", n)
	}
}
