package publish

import "slices"

// Own tells that columns are those of a table that this package writes, whatever their order
// and whatever stands beside them: it is read again without a mapping. Of features the
// position is no property.
func Own(columns []string) bool {
	return slices.ContainsFunc(tables(), func(t table) bool {
		return !slices.ContainsFunc(t.heads, func(h head) bool {
			return h.name != lonColumn && h.name != latColumn && !slices.Contains(columns, h.name)
		})
	})
}
