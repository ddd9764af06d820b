package intake

import (
	"regexp"
	"strings"
)

// cutPart returns the value of name in a cell of "name : value" pairs apart by
// semicolons or lines; "" when the cell has no such pair.
func cutPart(cell, name string) string {
	low, want := strings.ToLower(cell), strings.ToLower(name)
	if len(low) != len(cell) { // a letter whose small form is longer: places would shift
		low, want = cell, name
	}
	for from := 0; from < len(low); {
		at := strings.Index(low[from:], want)
		if at < 0 {
			return ""
		}
		at += from
		from = at + len(want)
		rest := strings.TrimLeft(cell[from:], " ")
		before := strings.TrimRight(cell[:at], " ")
		starts := before == "" || strings.ContainsAny(before[len(before)-1:], ";,\n")
		if starts && strings.HasPrefix(rest, ":") {
			value, _, _ := strings.Cut(rest[1:], ";")
			value, _, _ = strings.Cut(value, "\n")
			return strings.TrimSpace(value)
		}
	}
	return ""
}

var listSigns = regexp.MustCompile(`\s*(?:;|/|&|,\s+|\band\b|\bet\b|\be\b)\s*`)

// splitList splits several numbers written in one cell. Without a decimal comma, two
// commas or more make a list; a single one may be a slip for the decimal mark, which the
// number reader then refuses.
func splitList(text, decimal string) []string {
	parts := listSigns.Split(strings.TrimSpace(text), -1)
	if len(parts) == 1 && decimal != "," && strings.Count(text, ",") > 1 {
		parts = strings.Split(text, ",")
	}
	return parts
}

var intervalForm = regexp.MustCompile(`^\s*(\d+(?:\.\d+)?)\s*[-–]\s*(\d+(?:\.\d+)?)\s*(?:[,;/&]|$)`)

// readIntervals reads "88 - 94, 105 - 111"; nothing unless the whole cell reads so.
func readIntervals(text, decimal string) (out [][2]float64, ok bool) {
	if len(text) > maxCell {
		return nil, false
	}
	if decimal == "," {
		text = strings.NewReplacer(",", ".").Replace(text)
	}
	for strings.TrimSpace(text) != "" {
		m := intervalForm.FindStringSubmatch(text)
		if m == nil {
			return nil, false
		}
		top, _, okTop := readNumber(m[1], ".")
		base, _, okBase := readNumber(m[2], ".")
		if !okTop || !okBase {
			return nil, false
		}
		out = append(out, [2]float64{top, base})
		text = text[len(m[0]):]
	}
	return out, len(out) > 0
}
