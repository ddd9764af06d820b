package check

import (
	"cmp"
	"context"
	"slices"
	"sort"

	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

// Source is where the records come from; the knowledge base is one.
type Source interface {
	// Bores calls fn with every bore; an error from fn ends the walk.
	Bores(ctx context.Context, fn func(geo.Bore) error) error
	// Villages calls fn with every village.
	Villages(ctx context.Context, fn func(geo.Village) error) error
	// Boundaries calls fn with every boundary.
	Boundaries(ctx context.Context, fn func(geo.Boundary) error) error
}

// Terrain gives the elevation of the ground and its standard error in metres; false where
// it knows none.
type Terrain func(coord.LonLat) (elevationM, errorM float64, ok bool)

// Options are the limits that the rules across records use.
type Options struct {
	FarM       float64 // a bore farther than this from its village is doubted
	NearM      float64 // a mistake of writing is named when undoing it leads this near to the village
	SameSpotM  float64 // two bores nearer than this may be one
	RoundedM   float64 // so may two nearer than this, when more agrees: positions are rounded
	Neighbours int     // how many neighbours a value is held against
	ReachM     float64 // neighbours farther than this tell nothing
	Outlying   float64 // how many robust deviations make an outlier
	Terrain    Terrain // nil where there is none

	Progress func(done, total int) // hears how many steps of all are done, now and then; may be nil
}

// DefaultOptions are common practice, no source.
func DefaultOptions() Options {
	return Options{FarM: 5000, NearM: 3000, SameSpotM: 30, RoundedM: 200, Neighbours: 8, ReachM: 20000, Outlying: 5}
}

// survey is what the rules across records look at: a few numbers of each bore.
type survey struct {
	Options
	ctx      context.Context
	holes    []hole // by id
	origins  []origin
	villages villages
	standIns map[string]coord.LonLat // by folded name of a place without a village
	boundary orb.MultiPolygon
	index    *index.Index
	byCode   map[string][]int // bores of a number that several carry
	byLog    map[uint64][]int // bores whose log or whose figures several share
	farM     float64          // a bore farther than this from its village is doubted
	reliefM  float64          // by how much elevations usually differ from those around
	yields   map[geo.Outcome]span
	yield    func(geo.Issue) error
}

// Across calls yield with what looks wrong between records: each bore's findings in the
// order of the bores' ids, then those of whole sources by name. It keeps some 500 bytes a
// bore. An error from yield or the source ends it; an id that comes twice is
// [geo.Invalid].
func Across(ctx context.Context, src Source, options Options, yield func(geo.Issue) error) error {
	s := &survey{Options: options, ctx: ctx, yield: yield}
	if err := s.gather(src); err != nil {
		return err
	}
	rules := []func(*hole){s.placed, s.sharedSpots, s.outlying, s.offTerrain, s.flowing, s.dated, s.sameBore, s.absent}
	for i, rule := range rules {
		if err := s.each(rule, i, len(rules)); err != nil {
			return err
		}
	}
	if err := s.tell(); err != nil {
		return err
	}
	return s.sources()
}

// gather reads the records and indexes the bores that have a position.
func (s *survey) gather(src Source) error {
	g := newGatherer()
	if err := src.Bores(s.ctx, g.add); err != nil {
		return err
	}
	if err := src.Villages(s.ctx, s.villages.add); err != nil {
		return err
	}
	err := src.Boundaries(s.ctx, func(b geo.Boundary) error {
		s.boundary = append(s.boundary, b.Shape...)
		return nil
	})
	if err != nil {
		return err
	}
	s.holes, s.origins = g.holes, g.origins
	slices.SortFunc(s.holes, func(a, b hole) int { return cmp.Compare(a.id, b.id) })
	s.frame()
	s.standIn()
	s.listCodes()
	s.listLogs()
	s.listYields()
	return s.indexHoles()
}

func (s *survey) indexHoles() (err error) {
	var entries []index.Entry
	for i := range s.holes {
		if h := &s.holes[i]; h.placed {
			entries = append(entries, index.Entry{ID: h.id, Pos: h.at})
		}
	}
	if s.index, err = index.New(entries); err != nil {
		return geo.Fail(geo.Invalid, "check.Across", geo.Message{}, err)
	}
	return nil
}

// each applies one rule to every bore.
func (s *survey) each(rule func(*hole), nth, rules int) error {
	for i := range s.holes {
		if i%1024 == 0 {
			if s.ctx.Err() != nil {
				return s.ctx.Err()
			}
			if s.Progress != nil {
				s.Progress(nth*len(s.holes)+i, rules*len(s.holes))
			}
		}
		rule(&s.holes[i])
	}
	return nil
}

// tell hands the bores' findings on.
func (s *survey) tell() error {
	for i := range s.holes {
		for _, found := range s.holes[i].found {
			if err := s.yield(found); err != nil {
				return err
			}
		}
	}
	return nil
}

// of returns the bore with that id.
func (s *survey) of(id string) *hole {
	return &s.holes[sort.Search(len(s.holes), func(i int) bool { return s.holes[i].id >= id })] // copies no hole
}
