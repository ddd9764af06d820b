package tile

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
)

// Filter says which bores are meant; the zero Filter means all.
type Filter struct {
	Outcomes         []geo.Outcome    // any of these; empty: all
	Methods          []geo.Method     // any of these; empty: all
	FromYear, ToYear int              // of completion; 0: no bound. With a bound, undated bores are left out
	LeastM, MostM    geo.Opt[float64] // drilled depth, m; with a bound, bores of unknown depth are left out
}

// sieve is a filter made ready for one list of bores.
type sieve struct {
	outcomes    [kinds]bool
	methods     [256]bool
	year, depth bounds
}

// bounds are the least and the most of a number; without any every number is within, also
// one that is not known.
type bounds struct {
	set         bool
	least, most int32
}

func (b bounds) hold(v int32) bool { return !b.set || v >= b.least && v <= b.most }

// fits makes a filter ready; nil means all.
func (b *Bores) fits(f Filter) func(spot) bool {
	s := &sieve{}
	if f.FromYear != 0 || f.ToYear != 0 {
		s.year = bounds{true, int32(max(f.FromYear, 1)), int32(cmp.Or(f.ToYear, math.MaxInt32))}
	}
	if f.LeastM.Known() || f.MostM.Known() {
		s.depth = bounds{true, tenths(max(f.LeastM.Or(0), 0)), tenths(f.MostM.Or(maxDepthM))}
	}
	if len(f.Outcomes) == 0 && len(f.Methods) == 0 && !s.year.set && !s.depth.set {
		return nil
	}
	for i, outcome := range geo.Outcomes() {
		s.outcomes[i] = len(f.Outcomes) == 0 || slices.Contains(f.Outcomes, outcome)
	}
	for i := range s.methods {
		s.methods[i] = len(f.Methods) == 0 || i < len(b.methods) && slices.Contains(f.Methods, b.methods[i])
	}
	return s.fits
}

// maxDepthM is deeper than any bore on earth.
const maxDepthM = 20_000

func tenths(m float64) int32 { return int32(math.Round(min(max(m, -maxDepthM), maxDepthM) * 10)) }

func (s *sieve) fits(a spot) bool {
	return s.outcomes[a.kind] && s.methods[a.method] && s.year.hold(int32(a.year)) && s.depth.hold(a.depth)
}
