package server

import (
	"context"
	"sync"

	"waterstrike/advisor/trust"
)

// account is the track record being taken or taken, one at a time: it costs minutes of
// every processor, so that nobody can start a second one.
type account struct {
	mutex   sync.Mutex
	begun   string // the state that the last run was started for
	running bool
	done    int
	total   int
	taken   *trust.Report // of the last run that succeeded
	of      string        // the state that it was taken of
	failure error         // of the last run
}

// accountNow is what can be shown of an account at this moment.
type accountNow struct {
	report      *trust.Report // nil when there is none yet
	older       bool          // the report is of an earlier state
	done, total int
}

// look returns the account of a state, and starts taking it where none is taken or being
// taken. A failure is told until the state changes.
func (a *account) look(ctx context.Context, judge Judge, state string) (accountNow, error) {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	if !a.running && a.begun != state {
		a.begun, a.running, a.failure, a.done, a.total = state, true, nil, 0, 0
		go a.take(ctx, judge, state)
	}
	if a.failure != nil && a.begun == state {
		return accountNow{}, a.failure
	}
	return accountNow{report: a.taken, older: a.of != state, done: a.done, total: a.total}, nil
}

func (a *account) take(ctx context.Context, judge Judge, state string) {
	report, err := judge.Judge(ctx, a.tell)
	a.mutex.Lock()
	defer a.mutex.Unlock()
	a.running, a.failure = false, err
	if err == nil {
		a.taken, a.of = &report, state
	}
}

func (a *account) tell(done, total int) {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	a.done, a.total = done, total
}
