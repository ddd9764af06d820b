package intake

import (
	"maps"
	"slices"
)

// fieldOf names the field of each kind of record that a column of some meaning fills.
// Position and key stand apart.
var fieldOf = map[string]map[string]string{
	"bores": {
		"code": "code", "name": "name", "place": "place", "ground": "ground", "completed": "completed", "started": "started",
		"method": "method", "outcome": "outcome", "depth": "depth", "refusal": "refusal", "level": "level",
		"reference": "levelReference", "measured": "levelDate", "yield": "yield", "driller": "driller", "remarks": "remarks",
		"strikes": "strikes",
	},
	"layers":   {"code": "", "top": "top", "base": "base", "words": "words", "minutes": "minutesPerM"},
	"levels":   {"code": "", "level": "level", "measured": "date", "reference": "reference"},
	"pipes":    {"code": "", "piping": "kind", "top": "top", "base": "base", "material": "material", "diameter": "diameter"},
	"villages": {"code": "", "place": "name", "people": "people"},
	"water-points": {
		"code": "", "name": "name", "sort": "kind", "depth": "depth", "works": "works", "users": "users", "dry": "dryMonths",
		"visited": "visited", "level": "level", "remarks": "remarks",
	},
}

// positions are the meanings that make a position.
var positions = []string{"lon", "lat", "east", "north", "zone"}

// wanted reports that a kind of record has a place for what a column means. A table of
// bores may hold their layers too.
func wanted(kind, meant string) bool { return slices.Contains(meanings(kind), meant) }

// meanings lists what columns of a kind of record may mean.
func meanings(kind string) []string {
	out := slices.Sorted(maps.Keys(fieldOf[kind]))
	if kinds[kind].position {
		out = append(out, positions...)
	}
	if kind == "bores" {
		out = append(out, "top", "base", "words")
	}
	return out
}

// kindOf tells what kind of record a file's columns make; "" when nothing tells it.
func kindOf(found [][]match) string {
	has := map[string]bool{}
	for _, list := range found {
		for _, m := range list {
			has[m.meant] = true
		}
	}
	placed := has["lon"] && has["lat"] || has["east"] && has["north"]
	count := func(meant ...string) (n int) {
		for _, m := range meant {
			if has[m] {
				n++
			}
		}
		return n
	}
	bore := count("depth", "level", "method", "outcome", "yield", "completed", "strikes", "driller")
	point := count("users", "dry", "visited", "sort") + 2*count("works")
	switch {
	case has["top"] && has["base"] && !placed:
		if has["piping"] {
			return "pipes"
		}
		if has["words"] {
			return "layers"
		}
	case has["level"] && has["measured"] && !placed && has["code"] && !has["depth"]:
		return "levels"
	case placed && has["people"] && point == 0 && !has["depth"] && !has["level"]:
		return "villages"
	case placed && point > bore:
		return "water-points"
	case bore >= 2 && (placed || has["place"]) || placed && bore >= 1:
		return "bores"
	}
	return ""
}
