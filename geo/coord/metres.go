package coord

import (
	"regexp"
	"strings"
)

// metresForm is a number whose whole part may be grouped by spaces, with the
// letters people write after an easting or a northing.
var (
	metresForm  = regexp.MustCompile(`^([+\-−]?)(\d{1,8}|\d{1,3}(?: \d{3})+)(?:([.,])(\d+))?(?: ?(?:m[EN]?|E|N))?$`)
	groupOrTail = regexp.MustCompile(`^\d{1,3}[.,]\d{3}$`)
	spaces      = regexp.MustCompile(`[\s\x{00a0}\x{202f}]+`)
)

// readMetres reads one grid coordinate and half a unit of its last digit.
func readMetres(text string, part Part) (value, half float64, err error) {
	value, half, code := parseMetres(text)
	if code != "" {
		return 0, 0, &ReadError{Part: part, Text: clip(text), Code: code}
	}
	return value, half, nil
}

func parseMetres(text string) (value, half float64, wrong Code) {
	clean := strings.TrimSpace(spaces.ReplaceAllString(text, " "))
	switch {
	case clean == "":
		return 0, 0, Empty
	case len(text) > maxText:
		return 0, 0, TooLong
	case groupOrTail.MatchString(strings.TrimLeft(clean, "+-−")):
		return 0, 0, Ambiguous
	}
	m := metresForm.FindStringSubmatch(clean)
	if m == nil {
		return 0, 0, Unreadable
	}
	n, err := parseNumber(strings.ReplaceAll(m[2], " ", ""), m[4])
	if err != nil {
		return 0, 0, Unreadable
	}
	if m[1] == "-" || m[1] == "−" {
		n.value = -n.value
	}
	return n.value, n.halfUnit, ""
}
