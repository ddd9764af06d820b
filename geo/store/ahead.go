package store

import "context"

// How far parts are read ahead: few enough to keep memory flat.
const (
	aheadRows    = 512
	aheadBatches = 8
)

// batchOf is a run of parts, or the error that ended the walk.
type batchOf[T any] struct {
	parts []owned[T]
	err   error
}

// newAhead walks parts in a goroutine of its own, so that a second processor decodes
// them while the first merges: it nearly halves the time to read a whole base.
func newAhead[P, T any](ctx context.Context, q querier, l *parts[P, T], p path, which pick) (attacher[P], error) {
	c, err := openCursor(ctx, view{records: q}, &l.table, p, which)
	if err != nil {
		return nil, err
	}
	batches, stop := make(chan batchOf[T], aheadBatches), make(chan struct{})
	go func() {
		defer close(batches)
		c.sendAll(stop, batches)
	}()
	a := &attached[P, T]{list: l.list, more: receive(batches), end: func() {
		close(stop)
		for range batches { // until the goroutine has let go of the rows
		}
		c.close()
	}}
	if err := a.move(); err != nil {
		a.close()
		return nil, err
	}
	return a, nil
}

// sendAll sends every row, in runs, until the end, an error, or the stop.
func (c *cursor[T]) sendAll(stop <-chan struct{}, out chan<- batchOf[T]) {
	for {
		run := make([]owned[T], 0, aheadRows)
		var err error
		for len(run) < aheadRows && err == nil && !c.done {
			var one owned[T]
			var ok bool
			if one, ok, err = c.part(); ok {
				run = append(run, one)
			}
		}
		select {
		case out <- batchOf[T]{run, err}:
		case <-stop:
			return
		}
		if err != nil || c.done {
			return
		}
	}
}

// receive hands out the parts one by one.
func receive[T any](in <-chan batchOf[T]) func() (owned[T], bool, error) {
	var now batchOf[T]
	return func() (owned[T], bool, error) {
		for len(now.parts) == 0 {
			if now.err != nil {
				return owned[T]{}, false, now.err
			}
			var open bool
			if now, open = <-in; !open {
				return owned[T]{}, false, nil
			}
		}
		one := now.parts[0]
		now.parts = now.parts[1:]
		return one, true, nil
	}
}
