package advisor

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"sync/atomic"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// SurfaceQuestion asks for many places at once.
type SurfaceQuestion struct {
	At     []coord.LonLat
	Method geo.Method // empty: at each place the one with the best chance
	Seed   uint64     // as of a [Question]
}

// Spot is what a surface says at one of its places. What has no evidence is missing.
type Spot struct {
	Method     geo.Method      // that chance and refusal are of; empty where neither is known
	Chance     geo.Opt[Spread] // as of [MethodChance]
	DesignLowM geo.Opt[Spread] // the low of the worst year in ten, metres below ground
	RefusalM   geo.Opt[Spread] // how deep the ground lets the method go, whatever the water; at most the method's own depth
	Bores      BoresNear
	Few        bool // fewer bores than the programme asks for: its answers are hardly more than the region's
}

// Spread is a value with its 80 % range: the mean of a chance, the median of a depth.
type Spread struct{ Value, Lo, Hi float64 }

// BoresNear counts the separate bores within reach, as [Evidence] does.
type BoresNear struct{ ForWater, ForLayers int }

// Effective is the smaller of the two.
func (b BoresNear) Effective() int { return min(b.ForWater, b.ForLayers) }

// Surface answers for every place of a question, on all processors.
//
//   - Shapes: one Spot for each place, in their order; the same ones whatever else is
//     asked with them.
//   - Domain: the chance is within 0.02 of what Advise says at that place and seed. Places
//     off the globe have an empty Spot.
//   - Errors: a [geo.NotFound] error when the base holds no bore with a position or the
//     rules have no such method; the context's error when it ends.
//   - Cost: about 0.9 ms of a processor for each place and one method; see BenchmarkSurface.
//   - Checked by: TestSurfaceIsTheAdvice, TestSurfaceConcurrent, TestRoamingAgainstScan.
//
// progress, which may be nil, is told of each place on the caller's goroutine.
func (a *Advisor) Surface(ctx context.Context, q SurfaceQuestion, progress Progress) ([]Spot, error) {
	if a.snapshot.Len() == 0 {
		return nil, geo.Fail(geo.NotFound, "advisor.Surface", geo.Say("problem.no-data"), nil)
	}
	drillers, err := a.drillersFor(q.Method)
	if err != nil {
		return nil, err
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	out, ready := make([]Spot, len(q.At)), make(chan struct{}, 64)
	order := sideBySide(q.At)
	var next atomic.Int64
	var working sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(q.At)) {
		working.Go(func() {
			s := sketcher{sketchReader: newSketchReader(a), drillers: drillers, seed: q.Seed}
			for {
				from := int(next.Add(inARow)) - inARow
				if from >= len(order) {
					return
				}
				for _, i := range order[from:min(from+inARow, len(order))] {
					if ctx.Err() != nil {
						return
					}
					spot, err := s.spot(q.At[i])
					if err != nil {
						stop(err)
						return
					}
					out[i] = spot
					ready <- struct{}{}
				}
			}
		})
	}
	go func() {
		working.Wait()
		close(ready)
	}()
	done := 0
	for range ready {
		done++
		if progress != nil {
			progress(done, len(q.At))
		}
	}
	if done < len(q.At) {
		return nil, context.Cause(ctx)
	}
	return out, nil
}

// inARow is how many places side by side one processor takes at a time.
const inARow = 16

var errNoMethod = errors.New("the rules have no such method")

// drillersFor returns the one of a method, or all.
func (a *Advisor) drillersFor(code geo.Method) ([]*driller, error) {
	if code == "" {
		return a.drillers, nil
	}
	for i, d := range a.drillers {
		if d.Code == code {
			return a.drillers[i : i+1], nil
		}
	}
	return nil, geo.Fail(geo.NotFound, "advisor.Surface", geo.Message{}, errNoMethod)
}
