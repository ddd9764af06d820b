package intake

import "strings"

// Exact by definition: the international foot, the US and the imperial gallon (NIST SP
// 811, appendix B).
const (
	metresPerFoot  = 0.3048
	litresPerUSGal = 3.785411784
	litresPerUKGal = 4.54609
)

// lengthUnits are metres per unit, by folded name.
var lengthUnits = map[string]float64{
	"m": 1, "metre": 1, "meter": 1, "mtr": 1, "metro": 1, "miter": 1,
	"ft": metresPerFoot, "foot": metresPerFoot, "feet": metresPerFoot, "'": metresPerFoot,
	"pied": metresPerFoot, "pe": metresPerFoot,
	"in": metresPerFoot / 12, "inch": metresPerFoot / 12, "inche": metresPerFoot / 12, `"`: metresPerFoot / 12,
	"pouce": metresPerFoot / 12, "polegada": metresPerFoot / 12,
	"cm": 0.01, "mm": 0.001,
}

// rateUnits are litres per second per unit, by folded name.
var rateUnits = map[string]float64{
	"l/s": 1, "l/sec": 1, "lps": 1, "ls": 1,
	"l/min": 1.0 / 60, "l/mn": 1.0 / 60, "lpm": 1.0 / 60,
	"l/h": 1.0 / 3600, "l/hr": 1.0 / 3600, "lph": 1.0 / 3600,
	"m3/s": 1000,
	"m3/h": 1000.0 / 3600, "m3/hr": 1000.0 / 3600, "cum/h": 1000.0 / 3600,
	"m3/d": 1000.0 / 86400, "m3/day": 1000.0 / 86400, "m3/j": 1000.0 / 86400, "m3/dia": 1000.0 / 86400,
	"gpm": litresPerUSGal / 60, "usgpm": litresPerUSGal / 60, "igpm": litresPerUKGal / 60,
	"gph": litresPerUSGal / 3600, "igph": litresPerUKGal / 3600,
}

var unitSigns = strings.NewReplacer(
	" ", "", ".", "", "³", "3", "^", "", "é", "e", "è", "e", "í", "i", "s-1", "/s", "’", "'", "″", `"`, "''", `"`,
)

// unitName folds what is written after a number, so that "L / s", "l/s" and "M³/H" are
// found; a plural s is dropped.
func unitName(text string) string {
	name := unitSigns.Replace(strings.ToLower(text))
	if len(name) > 2 && !strings.Contains(name, "/") && name != "lps" {
		name = strings.TrimSuffix(name, "s")
	}
	return name
}
