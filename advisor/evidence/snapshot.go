// Package evidence holds the immutable snapshot that every answer reads: the bores with a
// position, in little memory, indexed by place.
//
// A snapshot is never changed. When the base moves on, Advance makes the next one, which
// shares all that stayed the same; Live swaps it in for the next question.
package evidence

import (
	"context"
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/index"

	"github.com/paulmach/orb"
)

// Source is where records come from.
type Source interface {
	// Seq returns the number of the last change.
	Seq(ctx context.Context) (int64, error)
	// Bores calls fn with every visible bore in order of its id.
	Bores(ctx context.Context, fn func(geo.Bore) error) error
	// ChangedSince returns the ids of the bores touched after seq, each once, and the
	// number of the last change.
	ChangedSince(ctx context.Context, seq int64) (ids []geo.BoreID, last int64, err error)
	// BoresByID calls fn with those of the bores that are visible.
	BoresByID(ctx context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error
}

// Snapshot is the state of the ground records at one change number. It is safe for
// concurrent use.
type Snapshot struct {
	seq    int64
	hidden int // bores left out by Without
	bores  catalogue
	views  [views]*index.Index
	rate   Rate
	points *points // nil where the source holds none
	land   *known  // nil where none is known
}

// Rate counts the bores of a snapshot.
type Rate struct {
	Known     int // with a known outcome
	Producing int
	Deep      int // with a level of deep water, which is left out
}

// loadBlock is how many bores share a block of memory when all are loaded.
const loadBlock = 1024

// Load reads every bore of a source.
func Load(ctx context.Context, src Source) (*Snapshot, error) {
	seq, err := src.Seq(ctx)
	if err != nil {
		return nil, err
	}
	var bores []*Bore
	s, reader := &Snapshot{seq: seq}, newReader(loadBlock)
	err = src.Bores(ctx, func(record geo.Bore) error {
		if b := reader.read(record); b != nil {
			bores = append(bores, b)
			s.rate.count(b, 1)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if s.points, err = readPoints(ctx, src); err != nil {
		return nil, err
	}
	s.bores = newCatalogue(bores)
	s.views, err = eachView(func(v view) (*index.Index, error) { return index.New(v.entries(bores)) })
	if err != nil {
		return nil, err
	}
	return s, nil
}

func (r *Rate) count(b *Bore, by int) {
	if b.Outcome != geo.OutcomeUnknown {
		r.Known += by
	}
	if b.Outcome == geo.Producing {
		r.Producing += by
	}
	if b.Deep {
		r.Deep += by
	}
}

// Seq is the number of the last change of the records that it holds.
func (s *Snapshot) Seq() int64 { return s.seq }

// ID names the state of the records and the land: the same id means the same evidence of
// one base, as long as no bores were hidden from it.
func (s *Snapshot) ID() string {
	id := strconv.FormatInt(s.seq, 10)
	if s.hidden > 0 {
		id += "-" + strconv.Itoa(s.hidden)
	}
	if s.land != nil {
		id += "@" + s.land.ID()
	}
	return id
}

// Len returns the number of bores with a position.
func (s *Snapshot) Len() int { return s.views[all].Len() }

// Described returns how many bores have known layers.
func (s *Snapshot) Described() int { return s.views[described].Len() }

// Levelled returns how many bores state a level.
func (s *Snapshot) Levelled() int { return s.views[levelled].Len() }

// Rate returns how the bores came out.
func (s *Snapshot) Rate() Rate { return s.rate }

// Near is a bore with its distance from the point asked about, metres.
type Near struct {
	*Bore
	DistanceM float64
}

// Nearest returns the n nearest bores.
func (s *Snapshot) Nearest(p coord.LonLat, n int) []Near { return s.look(all, p, n) }

// NearestDescribed returns the n nearest bores with known layers.
func (s *Snapshot) NearestDescribed(p coord.LonLat, n int) []Near { return s.look(described, p, n) }

// NearestLevelled returns the n nearest bores that state a level.
func (s *Snapshot) NearestLevelled(p coord.LonLat, n int) []Near { return s.look(levelled, p, n) }

// NearestSampled returns the n nearest bores whose water samples could be judged.
func (s *Snapshot) NearestSampled(p coord.LonLat, n int) []Near { return s.look(sampled, p, n) }

func (s *Snapshot) look(v view, p coord.LonLat, n int) []Near {
	hits := s.views[v].Nearest(p, n, nil)
	out := make([]Near, len(hits))
	for i, h := range hits {
		out[i] = Near{s.bores.get(geo.BoreID(h.ID)), h.DistanceM}
	}
	return out
}

// Within returns at most limit bores in a box of longitudes and latitudes, and how many
// lie in it. Which ones are shown does not depend on where they lie: the first in the
// order of their ids, which are random.
func (s *Snapshot) Within(box orb.Bound, limit int) (shown []*Bore, total int) {
	entries := s.views[all].WithinBox(box)
	for _, e := range entries[:min(limit, len(entries))] {
		shown = append(shown, s.bores.get(geo.BoreID(e.ID)))
	}
	return shown, len(entries)
}

// SampleDescribed returns at most n bores with known layers, the same ones for the same
// records: the first in the order of their ids, which are random.
func (s *Snapshot) SampleDescribed(n int) []*Bore { return s.sample(described, n) }

// SampleLevelled is the same for bores that state a level.
func (s *Snapshot) SampleLevelled(n int) []*Bore { return s.sample(levelled, n) }

func (s *Snapshot) sample(v view, n int) []*Bore {
	ix := s.views[v]
	out := make([]*Bore, min(n, ix.Len()))
	for i := range out {
		out[i] = s.bores.get(geo.BoreID(ix.At(i).ID))
	}
	return out
}
