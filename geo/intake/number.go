package intake

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// maxCell bounds the cells that are read as anything but text, bytes.
const maxCell = 200

// numberForms are an optional sign, digits in one run or in groups of three apart by
// spaces, decimals, and whatever follows (a unit).
var numberForms = map[string]*regexp.Regexp{
	".": regexp.MustCompile(`^([+\-]?)(\d{1,3}(?: \d{3})+|\d*)((?:\.\d*)?)\s*(\D.*)?$`),
	",": regexp.MustCompile(`^([+\-]?)(\d{1,3}(?: \d{3})+|\d*)((?:,\d*)?)\s*(\D.*)?$`),
}

// otherSpaces are the spaces and the minus that word processors write.
var otherSpaces = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "−", "-")

// readNumber splits a cell into its number and the unit after it. A mark other than the
// decimal mark is no part of a number: "1,250" with a decimal point is left unread,
// because nothing tells 1.25 from 1250.
func readNumber(text, decimal string) (value float64, unit string, ok bool) {
	text = strings.TrimSpace(otherSpaces.Replace(text))
	if decimal == "" {
		decimal = "."
	}
	m := numberForms[decimal].FindStringSubmatch(text)
	if len(text) > maxCell || m == nil {
		return 0, "", false
	}
	digits := strings.ReplaceAll(m[2], " ", "") + strings.Replace(m[3], ",", ".", 1)
	value, err := strconv.ParseFloat(m[1]+digits, 64)
	unit = strings.TrimSpace(m[4])
	if err != nil || math.IsInf(value, 0) || !startsUnit(unit) {
		return 0, "", false
	}
	return value, unit, true
}

// startsUnit reports that the rest of a cell may be a unit rather than the rest of a
// badly written number ("8.5*", "1 to 5", "12,7").
func startsUnit(rest string) bool {
	return rest == "" || !strings.ContainsAny(rest[:1], "?*.,;:-+~<>=/&0123456789") && !trailingDigits.MatchString(rest)
}

var trailingDigits = regexp.MustCompile(`\s\S*\d`)

func hasDigit(text string) bool { return strings.ContainsAny(text, "0123456789") }
