package store

import "sync"

// How far writing may lag behind: few enough to keep memory flat.
const (
	behindSteps = 256
	behindRuns  = 4
)

// behind does what it is given in a goroutine of its own, in order, so that one processor
// reads files while the other writes what they say. After the first failure nothing more is
// done. It is for one giver.
type behind struct {
	run  []func() error // given, not yet sent
	runs chan steps
	done chan struct{}

	guard sync.Mutex
	err   error // the first failure
}

// steps are done together; past is closed after them, unless it is nil.
type steps struct {
	run  []func() error
	past chan struct{}
}

func newBehind() *behind {
	b := &behind{runs: make(chan steps, behindRuns), done: make(chan struct{})}
	go func() {
		defer close(b.done)
		for s := range b.runs {
			b.work(s.run)
			if s.past != nil {
				close(s.past)
			}
		}
	}()
	return b
}

func (b *behind) work(run []func() error) {
	for _, step := range run {
		if b.failed() != nil {
			return
		}
		if err := step(); err != nil {
			b.guard.Lock()
			b.err = err
			b.guard.Unlock()
		}
	}
}

func (b *behind) failed() error {
	b.guard.Lock()
	defer b.guard.Unlock()
	return b.err
}

// do takes a step, and returns the failure of one taken before.
func (b *behind) do(step func() error) error {
	if b.run = append(b.run, step); len(b.run) == behindSteps {
		b.send(nil)
	}
	return b.failed()
}

func (b *behind) send(past chan struct{}) {
	b.runs <- steps{b.run, past}
	b.run = nil
}

// wait returns once every step so far is done or one has failed.
func (b *behind) wait() error {
	past := make(chan struct{})
	b.send(past)
	<-past
	return b.failed()
}

// close ends the goroutine once every step is done or one has failed.
func (b *behind) close() error {
	b.send(nil)
	close(b.runs)
	<-b.done
	return b.failed()
}
