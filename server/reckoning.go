package server

import (
	"context"
	"sync"

	"waterstrike/advisor/season"
	"waterstrike/advisor/trust"
)

// reckoning is the track record being taken or taken, one at a time: it costs minutes of
// every processor, so that nobody can start a second one.
type reckoning struct {
	mutex   sync.Mutex
	begun   string // the state that the last run was started for
	running bool
	done    int
	total   int
	taken   *trust.Report // of the last run that succeeded
	of      string        // the state that it was taken of
	failure error         // of the last run
}

// reckoned is what can be shown of an account at this moment.
type reckoned struct {
	report      *trust.Report // nil when there is none yet
	older       bool          // the report is of an earlier state
	done, total int
}

// look returns the account of a state, and starts taking it where none is taken or being
// taken. A failure is told until the state changes.
func (r *reckoning) look(ctx context.Context, judge Judge, state string) (reckoned, error) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if !r.running && r.begun != state {
		r.begun, r.running, r.failure, r.done, r.total = state, true, nil, 0, 0
		go r.take(ctx, judge, state)
	}
	if r.failure != nil && r.begun == state {
		return reckoned{}, r.failure
	}
	return reckoned{report: r.taken, older: r.of != state, done: r.done, total: r.total}, nil
}

func (r *reckoning) take(ctx context.Context, judge Judge, state string) {
	report, err := judge.Judge(ctx, r.tell)
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.running, r.failure = false, err
	if err == nil {
		r.taken, r.of = &report, state
	}
}

// said is the chance that the last account gave each bore; none where none was taken.
func (r *reckoning) said() map[string]float64 {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if r.taken == nil {
		return nil
	}
	return season.Foretold(*r.taken)
}

func (r *reckoning) tell(done, total int) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.done, r.total = done, total
}
