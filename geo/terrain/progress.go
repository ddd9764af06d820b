package terrain

import (
	"context"
	"time"
)

// Stage is a part of a long work.
type Stage string

// The stages in their order.
const (
	Reading      Stage = "reading"
	Filling      Stage = "filling"
	Routing      Stage = "routing"
	Accumulating Stage = "accumulating"
	Measuring    Stage = "measuring" // heights and distances
	Writing      Stage = "writing"
)

// Progress is told how many of all rows a stage has done; nil to hear nothing. It is
// called at most a few times a second and once at the end of a stage, on the caller's
// goroutine.
type Progress func(stage Stage, done, total int)

// between is the least time between two words of progress.
const between = 200 * time.Millisecond

// steps counts a stage's steps, tells of them and stops when the context ends.
type steps struct {
	ctx         context.Context
	tell        Progress
	stage       Stage
	done, total int
	told        time.Time
}

func newSteps(ctx context.Context, tell Progress, stage Stage, total int) *steps {
	return &steps{ctx: ctx, tell: tell, stage: stage, total: total}
}

// next begins another step and returns why not to.
func (s *steps) next() error { return s.to(s.done + 1) }

// to begins the step of that number.
func (s *steps) to(number int) error {
	s.done = number
	if err := s.ctx.Err(); err != nil {
		return err
	}
	if s.tell == nil {
		return nil
	}
	// The clock paces words to people; no result depends on it.
	if now := time.Now(); s.done == s.total || now.Sub(s.told) >= between {
		s.told = now
		s.tell(s.stage, s.done, s.total)
	}
	return nil
}
