package store

import (
	"context"
	"time"
)

// Watch calls fn after every change of the file by any connection of any program, this
// one's writers too, until ctx ends. It looks every so often; changes between two looks
// are told once.
func (b *Base) Watch(ctx context.Context, every time.Duration, fn func()) error {
	// data_version only tells what other connections did since this one looked last, so
	// the connection is kept for it.
	conn, err := b.readers.Conn(ctx)
	if err != nil {
		return fail("store.Watch", err)
	}
	defer conn.Close() //nolint:errcheck // only read from
	version := func() (n int64, err error) {
		err = conn.QueryRowContext(ctx, "PRAGMA data_version").Scan(&n)
		return n, err
	}
	last, err := version()
	if err != nil {
		return fail("store.Watch", err)
	}
	ticker := time.NewTicker(every)
	defer ticker.Stop()
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-ticker.C:
		}
		now, err := version()
		if err != nil {
			return fail("store.Watch", err)
		}
		if now != last {
			last = now
			fn()
		}
	}
}
