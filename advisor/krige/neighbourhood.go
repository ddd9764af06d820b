package krige

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/variogram"
)

// Neighbourhood says which data a local prediction uses.
type Neighbourhood struct {
	Nearest   int     // at most this many, the nearest; required, 1 or more
	DistanceM float64 // none farther than this, inclusive; 0 for no limit
	AtLeast   int     // an error with fewer; 0 for as many as the trend needs
	// Sectors asks for all directions: of the nearest data, ReachFactor times as many as
	// are used, each of this many equal sectors gives its nearest up to its part, and what
	// is then missing is made up by the nearest of the others. 0 or 1 for the nearest alone.
	Sectors int
	// Anisotropy is that of the model. Distances and sectors are those of the plane it
	// reduces to, where the nearest data are the likest.
	Anisotropy variogram.Anisotropy
}

// ReachFactor is how many candidates, in multiples of Nearest, sectors choose from. It
// keeps a target at the edge of the data from searching all of them for a sector that
// is empty. Stated here, no source.
const ReachFactor = 4

// DefaultNeighbourhood is the 32 nearest data, however far.
func DefaultNeighbourhood() Neighbourhood { return Neighbourhood{Nearest: 32} }

func (h Neighbourhood) check() error {
	if h.Nearest < 1 || h.AtLeast < 0 || h.AtLeast > h.Nearest {
		return &variogram.ParameterError{Name: "nearest", Value: float64(h.Nearest), Want: "1 or more, and not below at least"}
	}
	if !(h.DistanceM >= 0) || math.IsInf(h.DistanceM, 1) {
		return &variogram.ParameterError{Name: "distance", Value: h.DistanceM, Want: "a finite number, 0 or above"}
	}
	if h.Sectors < 0 || h.Sectors > h.Nearest {
		return &variogram.ParameterError{Name: "sectors", Value: float64(h.Sectors), Want: "0 to the number of nearest data"}
	}
	if a := h.Anisotropy; a != (variogram.Anisotropy{}) {
		_, err := variogram.NewAnisotropy(a.AzimuthDeg, a.Ratio)
		return err
	}
	return nil
}

// limit is the squared distance limit.
func (h Neighbourhood) limit() float64 {
	if h.DistanceM == 0 {
		return math.Inf(1)
	}
	return h.DistanceM * h.DistanceM
}

// candidates is how many of the nearest data are looked at.
func (h Neighbourhood) candidates() int {
	if h.Sectors > 1 {
		return ReachFactor * h.Nearest
	}
	return h.Nearest
}

// Choose returns which of some data a prediction at a point uses: their indices,
// nearest first, ties in the order given. [Local] makes the same choice without looking
// at all of them.
//
//   - Shapes: any number of positions, not reduced; at most Nearest indices.
//   - Units: metres in a projected plane.
//   - Errors: [*variogram.ParameterError] for a neighbourhood that NewLocal refuses,
//     [variogram.ErrNotFinite], [*TooFewError] below AtLeast.
//   - Cost: O(n log n).
//   - Source: sectors are common practice in local kriging (Chilès and Delfiner 2012,
//     Geostatistics, section 3.6.1), the rule for empty ones is ours.
//   - Checked by: TestLocalChoosesAsChoose, TestSectorsSeeAllSides.
func (h Neighbourhood) Choose(data []XY, at XY) ([]int, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	d2, turned := make([]float64, len(data)), make([]XY, len(data))
	var ids []int
	for i, p := range data {
		if !p.Finite() || !at.Finite() {
			return nil, variogram.ErrNotFinite
		}
		turned[i] = h.Anisotropy.Reduce(XY{X: p.X - at.X, Y: p.Y - at.Y})
		d2[i] = turned[i].X*turned[i].X + turned[i].Y*turned[i].Y
		if d2[i] <= h.limit() {
			ids = append(ids, i)
		}
	}
	slices.SortStableFunc(ids, func(a, b int) int { return cmp.Compare(d2[a], d2[b]) })
	ids = ids[:min(len(ids), h.candidates())]
	if h.Sectors > 1 {
		var b balance
		for _, i := range ids {
			b.add(h.sector(turned[i]))
		}
		kept := b.keep(h)
		for k, c := range kept {
			ids[k] = ids[c]
		}
		ids = ids[:len(kept)]
	}
	if len(ids) < h.AtLeast {
		return nil, &TooFewError{Have: len(ids), Need: h.AtLeast}
	}
	return ids, nil
}

// sector numbers the direction of a place seen from the target.
func (h Neighbourhood) sector(d XY) int {
	turn := math.Atan2(d.Y, d.X)/(2*math.Pi) + 0.5 // 0 to 1
	return min(int(turn*float64(h.Sectors)), h.Sectors-1)
}

// balance chooses among candidates given nearest first by their sectors.
type balance struct {
	sectors []int
	count   []int // taken of each sector
	kept    []int
}

func (b *balance) reset() { b.sectors = b.sectors[:0] }

func (b *balance) add(sector int) { b.sectors = append(b.sectors, sector) }

// keep returns the candidates used, nearest first.
func (b *balance) keep(h Neighbourhood) []int {
	part := (h.Nearest + h.Sectors - 1) / h.Sectors
	b.count = append(b.count[:0], make([]int, h.Sectors)...)
	b.kept = b.kept[:0]
	for i, s := range b.sectors {
		if b.count[s] < part && len(b.kept) < h.Nearest {
			b.count[s]++
			b.kept = append(b.kept, i)
			b.sectors[i] = -1
		}
	}
	for i, s := range b.sectors {
		if s >= 0 && len(b.kept) < h.Nearest {
			b.kept = append(b.kept, i)
		}
	}
	slices.Sort(b.kept)
	return b.kept
}
