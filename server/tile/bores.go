package tile

import (
	"cmp"
	"slices"
	"strings"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
)

// Bores are the bores of one state, arranged by place and by date. They never change and
// are safe for concurrent use.
type Bores struct {
	bores   []*evidence.Bore // the newest first
	spots   spots
	methods []geo.Method
	years   [2]int
	bound   orb.Bound
}

// NewBores arranges bores. It keeps the list, and puts it in order: of completion, the
// newest first and the undated last, and within a day by ID.
//
//   - Cost: about 1 s and 24 bytes a bore for a million of them.
func NewBores(bores []*evidence.Bore) *Bores {
	slices.SortFunc(bores, func(a, b *evidence.Bore) int {
		return cmp.Or(compareDates(b.Completed, a.Completed), cmp.Compare(a.ID, b.ID))
	})
	b := &Bores{bores: bores, bound: orb.MultiPoint{}.Bound()}
	list := make([]spot, len(bores))
	numbers, kind := map[geo.Method]uint8{}, map[geo.Outcome]uint8{}
	for i, outcome := range geo.Outcomes() {
		kind[outcome] = uint8(i)
	}
	for i, bore := range bores {
		n, seen := numbers[bore.Method]
		if !seen {
			n = uint8(min(len(b.methods), 255)) // a programme has a dozen
			numbers[bore.Method] = n
			b.methods = append(b.methods, bore.Method)
		}
		list[i] = spot{at: placeOf(bore.Pos), i: uint32(i), kind: kind[bore.Outcome], method: n, year: uint16(bore.Completed.Year), depth: -1}
		if depth, known := bore.DepthM.Get(); known {
			list[i].depth = tenths(max(depth, 0))
		}
		b.span(bore.Completed.Year)
		b.bound = b.bound.Extend(bore.Pos.Point())
	}
	b.spots = newSpots(list)
	return b
}

func compareDates(a, b geo.Date) int {
	return cmp.Or(cmp.Compare(a.Year, b.Year), cmp.Compare(a.Month, b.Month), cmp.Compare(a.Day, b.Day))
}

func (b *Bores) span(year int) {
	if year == 0 {
		return
	}
	if b.years[0] == 0 || year < b.years[0] {
		b.years[0] = year
	}
	b.years[1] = max(b.years[1], year)
}

// Bound is the box around all of them; an empty one without any.
func (b *Bores) Bound() orb.Bound { return b.bound }

// Methods lists the methods that any of them was drilled by, in order of their codes.
func (b *Bores) Methods() []geo.Method { return slices.Sorted(slices.Values(b.methods)) }

// Years returns the years of the first and the last that is dated; 0 without any.
func (b *Bores) Years() (first, last int) { return b.years[0], b.years[1] }

// List returns those that a filter means in a box of degrees, the newest first: at most n
// of them from the one numbered from, counted from 0, and how many there are in all.
func (b *Bores) List(f Filter, box orb.Bound, from, n int) (page []*evidence.Bore, total int) {
	fits := b.fits(f)
	meant := make([]bool, len(b.bores))
	for _, a := range b.spots.list {
		meant[a.i] = fits == nil || fits(a)
	}
	for i, bore := range b.bores {
		if !meant[i] || !box.Contains(bore.Pos.Point()) {
			continue
		}
		if total >= from && len(page) < n {
			page = append(page, bore)
		}
		total++
	}
	return page, total
}

// Labelled returns at most n whose label holds a text, whatever its case, the newest first.
func (b *Bores) Labelled(text string, n int) (out []*evidence.Bore) {
	wanted := strings.ToLower(text)
	for _, bore := range b.bores {
		if len(out) == n {
			break
		}
		if strings.Contains(strings.ToLower(bore.Label), wanted) {
			out = append(out, bore)
		}
	}
	return out
}

// Layers returns what a tile shows of the bores that a filter means: in the layer "bores"
// each with its outcome, and its year where it is known; in the layer "groups" many as
// one, with their number n and the number of each outcome.
func (b *Bores) Layers(t maptile.Tile, f Filter) mvt.Layers {
	single, groups := b.spots.tell(t, b.fits(f))
	bores := layer("bores", len(single))
	for _, a := range single {
		x, y := a.at.xy()
		bore := geojson.NewFeature(within(t, x, y))
		bore.Properties["outcome"] = string(geo.Outcomes()[a.kind])
		if a.year != 0 {
			bore.Properties["year"] = int(a.year)
		}
		bores.Features = append(bores.Features, bore)
	}
	many := layer("groups", len(groups))
	for _, g := range groups {
		told := geojson.NewFeature(g.at)
		told.Properties["n"] = g.n
		for i, outcome := range geo.Outcomes() {
			if g.counts[i] > 0 {
				told.Properties[string(outcome)] = g.counts[i]
			}
		}
		many.Features = append(many.Features, told)
	}
	return full(bores, many)
}

// full leaves out the layers that hold nothing.
func full(layers ...*mvt.Layer) mvt.Layers {
	return slices.DeleteFunc(layers, func(l *mvt.Layer) bool { return len(l.Features) == 0 })
}

func layer(name string, size int) *mvt.Layer {
	return &mvt.Layer{Name: name, Version: 2, Extent: mvt.DefaultExtent, Features: make([]*geojson.Feature, 0, size)}
}
