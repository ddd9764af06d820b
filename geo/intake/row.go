package intake

import (
	"errors"
	"slices"
	"strings"

	"waterstrike/geo"
)

// row takes one row, or the error in its place.
func (r *run) row(tables []*table, count *FileCount, row []string, failed error) error {
	var bad *RowError
	if failed != nil && !errors.As(failed, &bad) {
		return failed
	}
	count.Rows++
	r.sink.CountRow(count.File)
	c := &cells{table: tables[0], number: count.Rows, blanked: r.blanked}
	ok, err := r.apply(tables, c, row, bad)
	if ok {
		count.Applied++
	} else {
		count.Rejected++
	}
	if err != nil || c.table.kind.part && ok { // the group tells the issues of its rows
		return err
	}
	return r.tell(c.issues)
}

func (r *run) apply(tables []*table, c *cells, row []string, bad *RowError) (bool, error) {
	if bad != nil {
		c.reject(UnreadableRow, "", bad.Err.Error())
		return false, nil
	}
	var ok bool
	if c.row, ok = fitted(row, len(c.table.header)); !ok {
		c.reject(WrongColumnCount, "", strings.Join(row, c.separator()))
		return false, nil
	}
	at := slices.IndexFunc(tables, func(t *table) bool { return t.accepts(c.row) })
	if at < 0 {
		c.reject(UnclaimedRow, tables[0].When.Column, strings.TrimSpace(c.row[tables[0].when]))
		return false, nil
	}
	c.table = tables[at]
	if !c.named(r.lastKey) {
		return false, nil
	}
	r.lastKey = c.key
	if c.table.kind.part {
		if fresh, err := r.turnTo(c); !fresh || err != nil {
			return false, err
		}
	}
	return c.table.kind.apply(r, c)
}

// fitted gives a row the width of the header: cells missing at the end are empty, empty
// ones too many are cut.
func fitted(row []string, width int) ([]string, bool) {
	for len(row) > width && strings.TrimSpace(row[len(row)-1]) == "" {
		row = row[:len(row)-1]
	}
	if len(row) > width || len(row) == 0 {
		return nil, false
	}
	for len(row) < width {
		row = append(row[:len(row):len(row)], "")
	}
	return row, true
}

func (c *cells) separator() string {
	if c.table.Delimiter != "" {
		return c.table.Delimiter
	}
	return ","
}

// named finds the key of the row, or rejects it. above is the key of the row before.
func (c *cells) named(above string) bool {
	var parts []string
	for _, at := range c.table.key {
		text := c.valid(at)
		if text != "" && !slices.Contains(c.table.Missing, text) {
			parts = append(parts, text)
		}
	}
	switch {
	case len(parts) > 0 && len(parts) == len(c.table.key):
		c.key = strings.Join(parts, " / ")
	case c.table.NoKey == "row-above" && above != "" && c.headless():
		c.key, c.carried = above, true
	case c.table.NoKey == "whole-row":
		c.key = strings.Join(c.row, " | ")
		if len(c.table.key) > 0 {
			c.report(geo.Note, KeyFromRow, c.keyName(), "")
		}
	default:
		c.reject(NoKey, c.keyName(), "")
		return false
	}
	return true
}

// headless reports a row whose record's own columns are empty: it goes on with the parts
// of the record above. A row of parts alone has none but the key.
func (c *cells) headless() bool {
	return c.table.kind.part || !slices.ContainsFunc(c.table.head, func(at int) bool {
		text := strings.TrimSpace(c.row[at])
		return text != "" && !slices.Contains(c.table.Missing, text)
	})
}

func (c *cells) keyName() string { return strings.Join(c.table.Key, ", ") }
