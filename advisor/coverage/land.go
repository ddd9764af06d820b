package coverage

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"strconv"
	"sync"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

// Land is villages and points with the ways between them, measured once and asked about
// by many standards and days. It never changes. Safe for concurrent use.
type Land struct {
	villages  []Village // by ID
	points    []Point   // by ID
	farthestM float64
	ways      []way // shortest first
}

// way leads from a village to a point, both by their number.
type way struct {
	distanceM      float64
	village, point int32
}

// Prepare measures every way of at most farthestM metres.
//
//   - Units: metres on the ellipsoid, as the crow flies.
//   - Domain: any number of villages and points, each at a valid position.
//   - Errors: [geo.Invalid] with a message that names the record: an ID that is empty or
//     stands twice, people below 0, a position off the globe, a yield that is no number
//     of 0 or more; a distance that is no number above 0. The context's.
//   - Cost: see BenchmarkCount; the order of the records changes nothing.
//   - Checked by: TestCountAgainstBruteForce, TestPrepareRefuses.
func Prepare(ctx context.Context, villages []Village, points []Point, farthestM float64) (*Land, error) {
	l := &Land{villages: slices.Clone(villages), points: slices.Clone(points), farthestM: farthestM}
	slices.SortFunc(l.villages, func(a, b Village) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(l.points, func(a, b Point) int { return cmp.Compare(a.ID, b.ID) })
	if err := l.check(); err != nil {
		return nil, err
	}
	entries := make([]index.Entry, len(l.points))
	numbers := make(map[string]int32, len(l.points))
	for i, p := range l.points {
		entries[i] = index.Entry{ID: p.ID, Pos: p.At}
		numbers[p.ID] = int32(i)
	}
	ix, err := index.New(entries)
	if err != nil {
		return nil, geo.Fail(geo.Invalid, "coverage.Prepare", geo.Message{}, err)
	}
	l.ways, err = l.measure(ctx, ix, numbers)
	return l, err
}

// block is how many villages one worker takes at a time.
const block = 512

// measure finds the ways from all villages, several at once, and puts them in order.
func (l *Land) measure(ctx context.Context, ix *index.Index, numbers map[string]int32) ([]way, error) {
	blocks := make([][]way, (len(l.villages)+block-1)/block)
	next := make(chan int, len(blocks))
	for b := range blocks {
		next <- b
	}
	close(next)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for b := range next {
				if ctx.Err() == nil {
					blocks[b] = l.waysOf(ix, numbers, b*block, min((b+1)*block, len(l.villages)))
				}
			}
		})
	}
	workers.Wait()
	all := slices.Concat(blocks...)
	slices.SortFunc(all, func(a, b way) int {
		return cmp.Or(cmp.Compare(a.distanceM, b.distanceM), cmp.Compare(a.village, b.village), cmp.Compare(a.point, b.point))
	})
	return all, ctx.Err()
}

func (l *Land) waysOf(ix *index.Index, numbers map[string]int32, from, to int) (out []way) {
	for v := from; v < to; v++ {
		for _, hit := range ix.Within(l.villages[v].At, l.farthestM) {
			out = append(out, way{hit.DistanceM, int32(v), numbers[hit.ID]})
		}
	}
	return out
}

func (l *Land) check() error {
	fail := func(code geo.Code, args ...geo.Arg) error {
		return geo.Fail(geo.Invalid, "coverage.Prepare", geo.Say(code, args...), nil)
	}
	id := func(id string) geo.Arg { return geo.With("id", geo.Text(id)) }
	value := func(text string) geo.Arg { return geo.With("value", geo.Text(text)) }
	if !(l.farthestM > 0) || math.IsInf(l.farthestM, 0) {
		return fail("coverage.bad-distance", value(strconv.FormatFloat(l.farthestM, 'g', -1, 64)))
	}
	for i, v := range l.villages {
		switch {
		case v.ID == "":
			return fail("coverage.no-id")
		case i > 0 && v.ID == l.villages[i-1].ID:
			return fail("coverage.village-twice", id(v.ID))
		case v.People.Or(0) < 0:
			return fail("coverage.people-negative", id(v.ID), value(strconv.Itoa(v.People.Or(0))))
		case !onGlobe(v.At):
			return fail("coverage.off-the-globe", id(v.ID))
		}
	}
	for i, p := range l.points {
		yield := p.YieldLPS.Or(0)
		switch {
		case p.ID == "":
			return fail("coverage.no-id")
		case i > 0 && p.ID == l.points[i-1].ID:
			return fail("coverage.point-twice", id(p.ID))
		case !onGlobe(p.At):
			return fail("coverage.off-the-globe", id(p.ID))
		case !(yield >= 0) || math.IsInf(yield, 0):
			return fail("coverage.bad-yield", id(p.ID), value(strconv.FormatFloat(yield, 'g', -1, 64)))
		}
	}
	return nil
}

func onGlobe(p coord.LonLat) bool { return math.Abs(p.Lon) <= 180 && math.Abs(p.Lat) <= 90 }
