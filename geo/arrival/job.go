package arrival

import (
	"context"
	"sync"

	"waterstrike/geo"
)

// job is something that is done behind the answers.
type job struct {
	mutex       sync.Mutex
	work        Work
	done, total int
}

// now tells what is being done; nothing where there is no job.
func (j *job) now() Doing {
	if j == nil {
		return Doing{}
	}
	j.mutex.Lock()
	defer j.mutex.Unlock()
	return Doing{j.work, j.done, j.total}
}

func (j *job) tell(done, total int) {
	j.mutex.Lock()
	defer j.mutex.Unlock()
	j.done, j.total = done, total
}

// turnTo goes over to other work on the same thing.
func (j *job) turnTo(work Work) {
	j.mutex.Lock()
	defer j.mutex.Unlock()
	j.work, j.done, j.total = work, 0, 0
}

// begin starts work on an arrival behind the answers; [geo.Conflict] where something is
// being done about it already. What fn fails with is kept with the arrival, unless the
// desk's own life ends: then the arrival stands where it stood.
func (d *Desk) begin(id string, work Work, fn func(ctx context.Context, a Arrival, j *job) error) error {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	a, err := d.load(id)
	switch {
	case err != nil:
		return err
	case a.Doing.Work != "":
		return busy("arrival.begin")
	}
	j := &job{work: work}
	d.jobs[id] = j
	d.work.Go(func() {
		failed := d.inTurn(func() error { return fn(d.life, a, j) })
		if d.life.Err() == nil {
			_ = d.change(id, func(a *Arrival) { a.Failure = failureOf(failed) }) // a disk that is full tells so at the next step too
		}
		d.finish(id)
	})
	return nil
}

// inTurn waits for whatever else is being done, so that one reading at a time takes the
// computer.
func (d *Desk) inTurn(fn func() error) error {
	select {
	case d.turn <- struct{}{}:
	case <-d.life.Done():
		return d.life.Err()
	}
	defer func() { <-d.turn }()
	return fn()
}

// failureOf is what is kept of how work ended.
func failureOf(err error) geo.Message {
	if err == nil {
		return geo.Message{}
	}
	return told(err)
}

func (d *Desk) finish(id string) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	delete(d.jobs, id)
}
