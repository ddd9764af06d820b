package evidence

import (
	"slices"
	"strings"

	"waterstrike/geo"
)

// catalogue finds bores by id. It is a list in order of id, cut into pages, and never
// changes: a new one shares the pages that stay the same.
type catalogue struct{ pages [][]*Bore }

// pageSize is how many bores stand on a page at first; a page twice as long is cut.
const pageSize = 256

func byID(b *Bore, id geo.BoreID) int { return strings.Compare(string(b.ID), string(id)) }

// newCatalogue lists bores, which it puts in order.
func newCatalogue(bores []*Bore) catalogue {
	slices.SortFunc(bores, func(a, b *Bore) int { return byID(a, b.ID) })
	return catalogue{slices.Collect(slices.Chunk(bores, pageSize))}
}

// get returns the bore with an id, nil when there is none.
func (c catalogue) get(id geo.BoreID) *Bore {
	next, found := slices.BinarySearchFunc(c.pages, id, func(page []*Bore, id geo.BoreID) int { return byID(page[0], id) })
	switch {
	case found:
		return c.pages[next][0]
	case next == 0:
		return nil
	}
	page := c.pages[next-1]
	if i, found := slices.BinarySearchFunc(page, id, byID); found {
		return page[i]
	}
	return nil
}

// with returns a catalogue in which ids are what now says, or gone.
func (c catalogue) with(ids []geo.BoreID, now map[geo.BoreID]*Bore) catalogue {
	ids = slices.Sorted(slices.Values(ids))
	old := c.pages
	if len(old) == 0 {
		old = [][]*Bore{nil}
	}
	out := make([][]*Bore, 0, len(old)+1)
	for i, page := range old {
		here := ids
		if i+1 < len(old) {
			n, _ := slices.BinarySearch(ids, old[i+1][0].ID)
			here = ids[:n]
		}
		ids = ids[len(here):]
		if len(here) > 0 {
			page = rewritten(page, here, now)
		}
		out = appendPage(out, page)
	}
	return catalogue{out}
}

// rewritten returns a copy of a page in which ids are what now says, or gone.
func rewritten(page []*Bore, ids []geo.BoreID, now map[geo.BoreID]*Bore) []*Bore {
	out := make([]*Bore, 0, len(page)+len(ids))
	for _, id := range ids {
		i, found := slices.BinarySearchFunc(page, id, byID)
		out = append(out, page[:i]...)
		if found {
			i++
		}
		page = page[i:]
		if b := now[id]; b != nil {
			out = append(out, b)
		}
	}
	return append(out, page...)
}

// appendPage adds a page, cut into several when it is long; an empty one is left out.
func appendPage(pages [][]*Bore, page []*Bore) [][]*Bore {
	switch {
	case len(page) == 0:
		return pages
	case len(page) < 2*pageSize:
		return append(pages, page)
	}
	return slices.AppendSeq(pages, slices.Chunk(page, pageSize))
}
