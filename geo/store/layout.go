package store

import "slices"

// allLayouts describes every table of records and parts, each record before its parts.
func allLayouts() []layout {
	return slices.Concat(bores.layouts(), villages.layouts(), waterPoints.layouts(),
		boundaries.layouts(), rivers.layouts(), sitings.layouts())
}

// recordLayers names the tables of records.
func recordLayers() []string {
	return []string{bores.name, villages.name, waterPoints.name, boundaries.name, rivers.name, sitings.name}
}

func layoutOf(name string) (layout, bool) {
	all := allLayouts()
	i := slices.IndexFunc(all, func(l layout) bool { return l.name == name })
	if i < 0 {
		return layout{}, false
	}
	return all[i], true
}

// rootLayers maps every table to the table of the records its rows belong to.
func rootLayers() map[string]string {
	out := map[string]string{}
	root := ""
	for _, l := range allLayouts() {
		if l.parent == "" {
			root = l.name
		}
		out[l.name] = root
	}
	return out
}
