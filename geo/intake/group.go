package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"waterstrike/geo"
)

// maxGroup bounds the rows of one bore that are held together; a longer run is judged in
// pieces.
const maxGroup = 10000

// closeEnoughM is how far two layers may miss each other before it is said: feet
// converted to metres and rounded to centimetres miss by half a centimetre each.
const closeEnoughM = 0.011

// held is one row of parts, read and not yet handed on.
type held struct {
	cells *cells
	parts []any
}

// group holds the successive rows that belong to one bore: repeated rows, overlaps and
// gaps are found within it. Rows of one bore that stand apart in the file are judged
// apart.
type group struct {
	key   string
	rows  []held
	texts map[string]bool // whole rows, to find repeats
}

// turnTo hands on the rows of the bore before when a row of another begins, and reports
// whether this row is new: one that repeats another of its bore is rejected.
func (r *run) turnTo(c *cells) (bool, error) {
	c.record = string(BoreID(r.mapping.Dataset, c.key))
	c.row = slices.Clone(c.row) // the source takes its row back
	if r.group.key != c.key || len(r.group.texts) >= maxGroup {
		if err := r.flush(); err != nil {
			return false, err
		}
		r.group.key = c.key
	}
	text := strings.Join(c.row, "\x1f")
	if r.group.texts[text] {
		c.reject(DuplicateRow, c.keyName(), c.key)
		return false, nil
	}
	r.group.texts[text] = true
	return true, nil
}

// part hands the parts of one row to the group of its bore.
func (r *run) part(c *cells, parts ...any) (bool, error) {
	if _, known := r.holes[recordID(r.mapping.Dataset, "bore", c.key)]; r.boresRead && !known {
		c.reject(UnmatchedParent, c.keyName(), c.key)
		return false, nil
	}
	r.group.rows = append(r.group.rows, held{c, parts})
	return true, nil
}

// flush hands on what the group holds, with what is wrong between its rows.
func (r *run) flush() error {
	rows := r.group.rows
	r.group.rows = nil
	clear(r.group.texts)
	judgeLayers(rows)
	for _, h := range rows {
		for _, p := range h.parts {
			r.count.Parts++
			if err := r.sink.AddPart(h.cells.key, h.cells.table.File, h.cells.number, p); err != nil {
				return err
			}
		}
		if err := r.tell(h.cells.issues); err != nil {
			return err
		}
	}
	return nil
}

// judgeLayers reports layers of one bore that overlap, and depths that none describes.
func judgeLayers(rows []held) {
	type placed struct {
		geo.Layer
		cells *cells
	}
	var layers []placed
	for _, h := range rows {
		if l, ok := h.parts[0].(geo.Layer); ok {
			layers = append(layers, placed{l, h.cells})
		}
	}
	slices.SortStableFunc(layers, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.TopM, b.TopM), cmp.Compare(a.BaseM, b.BaseM))
	})
	for i := 1; i < len(layers); i++ {
		above, l := layers[i-1], layers[i]
		name := l.cells.table.fields["top"].name
		switch {
		case l.TopM < above.BaseM-closeEnoughM:
			l.cells.report(geo.Doubt, LayerOverlap, name, span(above.TopM, above.BaseM)+", "+span(l.TopM, l.BaseM))
		case l.TopM > above.BaseM+closeEnoughM:
			l.cells.report(geo.Note, LayerGap, name, span(above.BaseM, l.TopM))
		}
		if above.BaseM > l.BaseM { // the deepest base so far stands against the next top
			layers[i].TopM, layers[i].BaseM = above.TopM, above.BaseM
		}
	}
}

func span(top, base float64) string { return fmt.Sprintf("%g–%g m", top, base) }
