package evidence

import (
	"encoding/binary"
	"slices"
	"strings"

	"waterstrike/geo"
)

// catalogue finds bores by id. It is a list in order of id, cut into pages, and never
// changes: a new one shares the pages that stay the same.
type catalogue struct {
	pages []leaf
	first []uint64 // key of the first bore of each page
}

// leaf is one page: bores with their keys. These nearly always tell bores apart, and stand
// side by side in memory.
type leaf struct {
	bores []*Bore
	keys  []uint64
}

// pageSize is how many bores stand on a page at first; a page twice as long is cut.
const pageSize = 256

func byID(b *Bore, id geo.BoreID) int { return strings.Compare(string(b.ID), string(id)) }

// keyOf is the beginning of an id as a number in the order of ids.
func keyOf(id geo.BoreID) uint64 {
	var start [8]byte
	copy(start[:], id)
	return binary.BigEndian.Uint64(start[:])
}

// newPage lists bores in order.
func newLeaf(bores []*Bore) leaf {
	p := leaf{bores, make([]uint64, len(bores))}
	for i, b := range bores {
		p.keys[i] = keyOf(b.ID)
	}
	return p
}

// find returns the place of an id, or where it would stand.
func (p leaf) find(id geo.BoreID) (at int, found bool) {
	from, to := alike(p.keys, keyOf(id))
	at, found = slices.BinarySearchFunc(p.bores[from:to], id, byID)
	return from + at, found
}

// alike returns the range of keys in order that are one key, the last not included.
func alike(keys []uint64, key uint64) (from, to int) {
	from, _ = slices.BinarySearch(keys, key)
	for to = from; to < len(keys) && keys[to] == key; to++ {
	}
	return from, to
}

// newCatalogue lists bores, which it puts in order.
func newCatalogue(bores []*Bore) catalogue {
	slices.SortFunc(bores, func(a, b *Bore) int { return byID(a, b.ID) })
	return catalogueOf(appendPages(nil, bores, pageSize))
}

func catalogueOf(pages []leaf) catalogue {
	c := catalogue{pages: pages, first: make([]uint64, len(pages))}
	for i, p := range pages {
		c.first[i] = p.keys[0]
	}
	return c
}

// pageOf returns the place of the page that an id stands on, or would.
func (c catalogue) pageOf(id geo.BoreID) int {
	from, to := alike(c.first, keyOf(id))
	after, found := slices.BinarySearchFunc(c.pages[from:to], id, func(p leaf, id geo.BoreID) int { return byID(p.bores[0], id) })
	if found {
		return from + after
	}
	return max(from+after-1, 0)
}

// get returns the bore with an id, nil when there is none.
func (c catalogue) get(id geo.BoreID) *Bore {
	if len(c.pages) == 0 {
		return nil
	}
	p := c.pages[c.pageOf(id)]
	if i, found := p.find(id); found {
		return p.bores[i]
	}
	return nil
}

// with returns a catalogue in which ids are what now says, or gone.
func (c catalogue) with(ids []geo.BoreID, now map[geo.BoreID]*Bore) catalogue {
	ids = slices.Sorted(slices.Values(ids))
	old := c.pages
	if len(old) == 0 {
		old = []leaf{{}}
	}
	out := make([]leaf, 0, len(old)+1)
	for i, p := range old {
		here := ids
		if i+1 < len(old) {
			n, _ := slices.BinarySearch(ids, old[i+1].bores[0].ID)
			here = ids[:n]
		}
		ids = ids[len(here):]
		if len(here) > 0 {
			out = appendPages(out, p.rewritten(here, now), 2*pageSize)
		} else if len(p.bores) > 0 {
			out = append(out, p)
		}
	}
	return catalogueOf(out)
}

// rewritten returns the bores of a page in which ids are what now says, or gone.
func (p leaf) rewritten(ids []geo.BoreID, now map[geo.BoreID]*Bore) []*Bore {
	bores := p.bores
	out := make([]*Bore, 0, len(bores)+len(ids))
	for _, id := range ids {
		i, found := slices.BinarySearchFunc(bores, id, byID)
		out = append(out, bores[:i]...)
		if found {
			i++
		}
		bores = bores[i:]
		if b := now[id]; b != nil {
			out = append(out, b)
		}
	}
	return append(out, bores...)
}

// appendPages adds bores as one page, cut into several when there are as many as that; none
// for no bores.
func appendPages(pages []leaf, bores []*Bore, cut int) []leaf {
	if len(bores) < cut && len(bores) > 0 {
		return append(pages, newLeaf(bores))
	}
	for part := range slices.Chunk(bores, pageSize) {
		pages = append(pages, newLeaf(part))
	}
	return pages
}
