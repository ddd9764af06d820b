package server

import (
	"context"
	"errors"
	"slices"
	"sync"

	"waterstrike/geo"
)

// errands is work that people asked for and that takes longer than an answer may: one at a
// time, each kept for as long as it is among the last ones asked for.
type errands[T any] struct {
	mutex sync.Mutex
	turn  sync.Mutex // held by the one at work
	asked []*errand[T]
}

// errand is one such piece of work. Its key names the question and the state of the records.
type errand[T any] struct {
	key         string
	stop        context.CancelFunc
	done, total int
	ended       bool
	result      T
	failure     error
}

// mostErrands is how many are kept.
const mostErrands = 8

// look returns how far a piece of work is, and begins it where nobody asked for it yet. A
// [geo.Conflict] error where too many are under way.
func (e *errands[T]) look(life context.Context, key string, work func(ctx context.Context, progress func(done, total int)) (T, error)) (errand[T], error) {
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if x := e.find(key); x != nil {
		return *x, nil
	}
	if len(e.asked) >= mostErrands {
		i := slices.IndexFunc(e.asked, func(x *errand[T]) bool { return x.ended })
		if i < 0 {
			return errand[T]{}, geo.Fail(geo.Conflict, "server.errands", geo.Say("season.busy"), nil)
		}
		e.asked = slices.Delete(e.asked, i, i+1)
	}
	ctx, stop := context.WithCancel(life)
	x := &errand[T]{key: key, stop: stop}
	e.asked = append(e.asked, x)
	go e.run(ctx, x, work)
	return *x, nil
}

func (e *errands[T]) find(key string) *errand[T] {
	for _, x := range e.asked {
		if x.key == key {
			return x
		}
	}
	return nil
}

func (e *errands[T]) run(ctx context.Context, x *errand[T], work func(context.Context, func(done, total int)) (T, error)) {
	defer x.stop()
	e.turn.Lock()
	defer e.turn.Unlock()
	result, err := *new(T), ctx.Err()
	if err == nil {
		result, err = work(ctx, func(done, total int) {
			e.mutex.Lock()
			defer e.mutex.Unlock()
			x.done, x.total = done, total
		})
	}
	e.mutex.Lock()
	defer e.mutex.Unlock()
	x.ended, x.result, x.failure = true, result, err
	if errors.Is(err, context.Canceled) { // to be begun anew when asked for again
		e.asked = slices.DeleteFunc(e.asked, func(y *errand[T]) bool { return y == x })
	}
}

// end stops a piece of work; nothing where there is none.
func (e *errands[T]) end(key string) {
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if x := e.find(key); x != nil && !x.ended {
		x.stop()
	}
}
