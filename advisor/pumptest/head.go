package pumptest

import (
	"regexp"
	"strings"

	"waterstrike/geo"
)

// withUnits puts the units of a line to the names of the line above.
func withUnits(names, units []string) ([]string, bool) {
	units = trimmed(units, len(names))
	if len(units) != len(names) {
		return nil, false
	}
	out := make([]string, len(names))
	for i, name := range names {
		unit := strings.Trim(strings.TrimSpace(units[i]), "()[]\"")
		if _, isNumber := number(unit, true); isNumber {
			return nil, false
		}
		out[i] = name
		if unit != "" && unit != "-" {
			out[i] = name + " (" + unit + ")"
		}
	}
	return out, true
}

// separator is what parts the cells of a line.
func separator(line string) string {
	for _, part := range []string{";", "\t", ","} {
		if strings.Contains(line, part) {
			return part
		}
	}
	if twoBlanks.MatchString(line) {
		return "  "
	}
	return " "
}

// twoBlanks part the cells of a head whose names have blanks of their own.
var twoBlanks = regexp.MustCompile(` {2,}`)

// split cuts a line into cells. Where blanks part them, a bracketed unit stays with its name.
func split(line, part string) []string {
	switch part {
	case " ":
	case "  ":
		return twoBlanks.Split(line, -1)
	default:
		return strings.Split(line, part)
	}
	return strings.Fields(strings.NewReplacer(" (", "(", " [", "[").Replace(line))
}

// cell is a column of the table; at is the distance of the place that it alone was read at.
type cell struct {
	what   column
	factor float64
	at     geo.Opt[float64]
}

// trimmed leaves out empty cells at the end, down to a number of cells.
func trimmed(cells []string, least int) []string {
	for len(cells) > least && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// headOf reads the head of the table.
func headOf(line int, cells []string) ([]cell, error) {
	cells = trimmed(cells, 1)
	out := make([]cell, len(cells))
	for i, c := range cells {
		name, unit := unitOf(c)
		what, known := heads[plain(name)]
		var at geo.Opt[float64]
		if !known {
			what, at, known = placeOf(name)
		}
		if !known {
			return nil, refuse("pumping.unknown-column", row(line), text("value", strings.TrimSpace(c)))
		}
		factor, ok := what.of().factor(unit)
		if !ok {
			return nil, refuse("pumping.no-unit", row(line), text("value", strings.TrimSpace(c)), text("entry", name+" ("+what.example()+")"))
		}
		out[i] = cell{what, factor, at}
		for _, before := range out[:i] {
			if before.what == what && before.at == at {
				return nil, refuse("pumping.column-twice", row(line), text("value", strings.TrimSpace(c)))
			}
		}
	}
	return out, nil
}

// placed is a column that names the place that it was read at, such as "drawdown at 30 m".
var placed = regexp.MustCompile(`(?i)^(.+?)[ ,]+(?:at|à|a|r ?=)? *([0-9.,]+ *(?:m|ft|pieds|pés))$`)

// placeOf reads the name of such a column.
func placeOf(name string) (column, geo.Opt[float64], bool) {
	m := placed.FindStringSubmatch(strings.TrimSpace(name))
	if m == nil {
		return 0, geo.Opt[float64]{}, false
	}
	what, known := heads[plain(m[1])]
	at, ok := length.quantity(thousands(m[2]))
	return what, geo.Some(at), known && ok && at > 0 && (what == drawdownColumn || what == levelColumn)
}

// example is a unit for a column.
func (c column) example() string { return [...]string{"min", "", "m", "m", "m", "L/s"}[c] }

// unitOf parts a head into its name and its unit: "t (min)", "s, m", "time_min" or "time min".
func unitOf(head string) (name, unit string) {
	head = strings.Trim(strings.TrimSpace(head), `"`)
	if at := strings.LastIndexAny(head, "(["); at > 0 {
		return strings.TrimSpace(head[:at]), strings.Trim(head[at:], "()[] ")
	}
	if _, whole := heads[plain(head)]; whole {
		return head, ""
	}
	if _, alone := duration.factor(head); alone && len(head) > 1 { // a column headed "minutes"
		return "time", head
	}
	if at := strings.LastIndexAny(head, " _,"); at > 0 {
		return strings.Trim(head[:at], " _,"), strings.TrimSpace(head[at+1:])
	}
	return head, ""
}
