// Package evidence holds the immutable snapshot that every answer reads: the bores with a
// position, in little memory, indexed by place.
//
// A snapshot is never changed. When the base moves on, Advance makes the next one, which
// shares all that stayed the same; Live swaps it in for the next question.
package evidence

import (
	"context"
	"slices"
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/index"
	"waterstrike/geo/soil"

	"github.com/paulmach/orb"
)

// Source is where records come from.
type Source interface {
	// Seq returns the number of the last change.
	Seq(ctx context.Context) (int64, error)
	// Bores calls fn with every visible bore in order of its id.
	Bores(ctx context.Context, fn func(geo.Bore) error) error
	// ChangedSince returns the ids of the bores touched after seq, and the number of the
	// last change.
	ChangedSince(ctx context.Context, seq int64) (ids []geo.BoreID, last int64, err error)
	// BoresByID calls fn with those of the bores that are visible.
	BoresByID(ctx context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error
}

// Snapshot is the state of the ground records at one change number. It is safe for
// concurrent use.
type Snapshot struct {
	seq       int64
	bores     catalogue
	all       *index.Index // every bore
	described *index.Index // bores with a known layer
	levelled  *index.Index // bores that state a level
	rate      Rate
}

// Rate counts outcomes.
type Rate struct{ Known, Producing int }

// Load reads every bore of a source.
func Load(ctx context.Context, src Source) (*Snapshot, error) {
	seq, err := src.Seq(ctx)
	if err != nil {
		return nil, err
	}
	s := &Snapshot{seq: seq}
	bores := map[geo.BoreID]*Bore{}
	var all, described, levelled []index.Entry
	err = src.Bores(ctx, func(record geo.Bore) error {
		b, ok := read(record)
		if !ok {
			return nil
		}
		bores[b.ID] = &b
		s.rate.count(b.Outcome, 1)
		all = append(all, b.entry())
		if HasLayers(&b) {
			described = append(described, b.entry())
		}
		if HasLevel(&b) {
			levelled = append(levelled, b.entry())
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	s.bores = catalogue{base: bores}
	return s, s.indexAll(all, described, levelled)
}

func (s *Snapshot) indexAll(all, described, levelled []index.Entry) (err error) {
	if s.all, err = index.New(all); err != nil {
		return err
	}
	if s.described, err = index.New(described); err != nil {
		return err
	}
	s.levelled, err = index.New(levelled)
	return err
}

func (b *Bore) entry() index.Entry { return index.Entry{ID: string(b.ID), Pos: b.Pos} }

func (r *Rate) count(o geo.Outcome, by int) {
	if o == geo.OutcomeUnknown {
		return
	}
	r.Known += by
	if o == geo.Producing {
		r.Producing += by
	}
}

// ID names the state of the records: the same id means the same evidence of one base.
func (s *Snapshot) ID() string { return strconv.FormatInt(s.seq, 10) }

// Len returns the number of bores with a position.
func (s *Snapshot) Len() int { return s.all.Len() }

// Described returns how many bores have known layers.
func (s *Snapshot) Described() int { return s.described.Len() }

// Levelled returns how many bores state a level.
func (s *Snapshot) Levelled() int { return s.levelled.Len() }

// Rate returns how the bores came out.
func (s *Snapshot) Rate() Rate { return s.rate }

// Near is a bore with its distance from the point asked about, metres.
type Near struct {
	*Bore
	DistanceM float64
}

// Nearest returns the n nearest bores.
func (s *Snapshot) Nearest(p coord.LonLat, n int) []Near { return s.look(s.all, p, n) }

// NearestDescribed returns the n nearest bores with known layers.
func (s *Snapshot) NearestDescribed(p coord.LonLat, n int) []Near { return s.look(s.described, p, n) }

// NearestLevelled returns the n nearest bores that state a level.
func (s *Snapshot) NearestLevelled(p coord.LonLat, n int) []Near { return s.look(s.levelled, p, n) }

func (s *Snapshot) look(ix *index.Index, p coord.LonLat, n int) []Near {
	hits := ix.Nearest(p, n, nil)
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
	entries := s.all.WithinBox(box)
	for _, e := range entries[:min(limit, len(entries))] {
		shown = append(shown, s.bores.get(geo.BoreID(e.ID)))
	}
	return shown, len(entries)
}

// SampleDescribed returns at most n bores with known layers, the same ones for the same
// records: the first in the order of their ids, which are random.
func (s *Snapshot) SampleDescribed(n int) []*Bore { return s.sample(s.described, n) }

// SampleLevelled is the same for bores that state a level.
func (s *Snapshot) SampleLevelled(n int) []*Bore { return s.sample(s.levelled, n) }

func (s *Snapshot) sample(ix *index.Index, n int) []*Bore {
	out := make([]*Bore, min(n, ix.Len()))
	for i := range out {
		out[i] = s.bores.get(geo.BoreID(ix.At(i).ID))
	}
	return out
}

// HasLayers reports that a bore has known layers.
func HasLayers(b *Bore) bool {
	return slices.ContainsFunc(b.Layers, func(l Layer) bool { return l.Class != soil.Unknown })
}

// HasLevel reports that a bore states a level.
func HasLevel(b *Bore) bool { return len(b.Levels) > 0 }
