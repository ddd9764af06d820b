package evidence

import (
	"context"
	"sync"
	"sync/atomic"
)

// Live is the present snapshot of a source. Readers never wait; one refresh runs at a
// time.
type Live struct {
	src     Source
	present atomic.Pointer[Snapshot]
	refresh sync.Mutex
}

// NewLive loads the first snapshot; land may be nil.
func NewLive(ctx context.Context, src Source, land Land) (*Live, error) {
	first, err := Load(ctx, src)
	if err != nil {
		return nil, err
	}
	l := &Live{src: src}
	l.present.Store(first.On(land))
	return l, nil
}

// Snapshot returns the present snapshot.
func (l *Live) Snapshot() *Snapshot { return l.present.Load() }

// Refresh advances to the source's present state and returns that snapshot.
func (l *Live) Refresh(ctx context.Context) (*Snapshot, error) {
	l.refresh.Lock()
	defer l.refresh.Unlock()
	next, err := l.present.Load().Advance(ctx, l.src)
	if err != nil {
		return nil, err
	}
	l.present.Store(next)
	return next, nil
}
