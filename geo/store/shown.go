package store

import (
	"fmt"
	"math"
	"strings"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// shown is a stored value as people are told it, with its type and unit.
func shown(table, column string, cell any) geo.Value {
	switch v := cell.(type) {
	case float64:
		return shownNumber(column, v)
	case int64:
		return shownCount(column, v)
	case string:
		return shownText(table, column, v)
	case []byte:
		return shownShape(v)
	}
	return geo.Ref("difference.missing")
}

func shownNumber(column string, v float64) geo.Value {
	switch {
	case strings.HasSuffix(column, "_m"):
		return geo.Metres(v)
	case strings.HasSuffix(column, "_lps"):
		return geo.LPS(v)
	}
	return geo.Number(v)
}

func shownCount(column string, n int64) geo.Value {
	switch column {
	case "clayey", "works", "perennial":
		if n == 0 {
			return geo.Ref("difference.no")
		}
		return geo.Ref("difference.yes")
	}
	return geo.Count(n)
}

func shownText(table, column, s string) geo.Value {
	switch column {
	case "started", "completed", "read_on", "tested_on", "sampled_on", "visited_on":
		if d, err := geo.ParseDate(s); err == nil {
			return d
		}
	case "class", "outcome", "method":
		return geo.Ref(column + "." + s)
	case "grade":
		return geo.Ref("class.sand-" + s)
	case "state":
		return geo.Ref("level-state." + s)
	case "kind":
		if table != boundaries.name { // whose kinds are anybody's words
			return geo.Ref(catalogued(table) + "." + s)
		}
	}
	return geo.Text(s)
}

// shownShape writes a point in degrees; of a line or an area it is only told that there is one.
func shownShape(cell []byte) geo.Value {
	g, err := decodeGeometry(cell)
	p, ok := g.(orb.Point)
	if err != nil || !ok {
		return geo.Ref("difference.shape")
	}
	return geo.Text(degrees(p.Lat(), "N", "S") + " " + degrees(p.Lon(), "E", "W"))
}

func degrees(v float64, positive, negative string) string {
	side := positive
	if v < 0 {
		side = negative
	}
	return fmt.Sprintf("%.6f%s", math.Abs(v), side)
}

func tableName(table string) geo.Ref   { return geo.Ref("table." + catalogued(table)) }
func columnName(column string) geo.Ref { return geo.Ref("field." + catalogued(column)) }

// catalogued writes a name of SQL as the codes of messages are written.
func catalogued(name string) string { return strings.ReplaceAll(name, "_", "-") }
