package pumptest

import (
	"math"
	"strconv"
	"strings"
)

// dimension is what a number measures.
type dimension uint8

const (
	none dimension = iota // a plain number
	length
	duration
	discharge
)

// Litres of a US and of an imperial gallon, and metres of a foot: exact by definition.
const (
	usGallonL       = 3.785411784
	imperialGallonL = 4.54609
	footM           = 0.3048
)

// units are what one of each makes: metres, days, m³/d.
func (d dimension) units() map[string]float64 {
	switch d {
	case length:
		return map[string]float64{"m": 1, "cm": 0.01, "mm": 0.001, "km": 1000, "ft": footM, "in": footM / 12}
	case duration:
		return map[string]float64{"s": 1.0 / 86400, "min": 1.0 / 1440, "h": 1.0 / 24, "d": 1}
	case discharge:
		ft3 := footM * footM * footM
		return map[string]float64{
			"m3/d": 1, "m3/h": 24, "m3/min": 1440, "m3/s": 86400, "l/s": 86.4, "l/min": 1.44, "l/h": 0.024, "l/d": 0.001,
			"gpm": 1.44 * usGallonL, "gpd": usGallonL / 1000, "igpm": 1.44 * imperialGallonL,
			"ft3/s": 86400 * ft3, "ft3/min": 1440 * ft3, "ft3/d": ft3,
		}
	}
	return map[string]float64{"": 1}
}

// example is how a value of the dimension may be written.
func (d dimension) example() string {
	return [...]string{"0.001", "30 m", "6 h", "788 m3/d"}[d]
}

// spelled are other ways of writing a unit or a part of one, in English, French and
// Portuguese.
var spelled = map[string]string{
	"metre": "m", "metres": "m", "meter": "m", "meters": "m", "mètre": "m", "mètres": "m", "metro": "m", "metros": "m",
	"feet": "ft", "foot": "ft", "pied": "ft", "pieds": "ft", "pé": "ft", "pés": "ft", "inch": "in", "inches": "in", "pouce": "in", "pouces": "in",
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "seconde": "s", "secondes": "s", "segundo": "s", "segundos": "s",
	"mn": "min", "mins": "min", "minute": "min", "minutes": "min", "minuto": "min", "minutos": "min",
	"hr": "h", "hrs": "h", "hour": "h", "hours": "h", "heure": "h", "heures": "h", "hora": "h", "horas": "h",
	"day": "d", "days": "d", "j": "d", "jour": "d", "jours": "d", "dia": "d", "dias": "d",
	"litre": "l", "litres": "l", "liter": "l", "liters": "l", "litro": "l", "litros": "l",
	"lps": "l/s", "lpm": "l/min", "usgpm": "gpm", "gal/min": "gpm", "gallon/min": "gpm", "gallons/min": "gpm", "gal/d": "gpd", "gallons/d": "gpd",
	"impgpm": "igpm", "cfs": "ft3/s", "cfm": "ft3/min", "cumecs": "m3/s", "cubicmetres": "m3", "cubicmetre": "m3", "cubicmeters": "m3", "cubicmeter": "m3", "cum": "m3", "usgal/min": "gpm",
	"mts": "m", "mtr": "m", "mtrs": "m", "centimetres": "cm", "centimetros": "cm", "millimetres": "mm", "pies": "ft",
}

// factor reads a unit of the dimension; ok is false where it is none.
func (d dimension) factor(text string) (f float64, ok bool) {
	u := strings.NewReplacer("³", "3", "^", "", " ", "", ".", "", " per ", "/").Replace(strings.ToLower(strings.ReplaceAll(text, " per ", "/")))
	if whole, known := spelled[u]; known {
		u = whole
	}
	parts := strings.Split(u, "/")
	for i, p := range parts {
		if known, found := spelled[p]; found {
			parts[i] = known
		}
	}
	u = strings.Join(parts, "/")
	if whole, known := spelled[u]; known { // gallons/minute
		u = whole
	}
	f, ok = d.units()[u]
	return f, ok
}

// quantity reads a number with its unit, such as "12.5 L/s".
func (d dimension) quantity(text string) (v float64, ok bool) {
	text = strings.TrimSpace(text)
	end := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.,eE+-", r) })
	if end < 0 {
		end = len(text)
	}
	v, ok = number(text[:end], true)
	if !ok {
		return 0, false
	}
	f, ok := d.factor(text[end:])
	return v * f, ok
}

// number reads digits; comma says that a comma may be the decimal mark.
func number(text string, comma bool) (float64, bool) {
	text = strings.TrimSpace(text)
	if comma {
		text = strings.Replace(text, ",", ".", 1)
	}
	if strings.ContainsAny(text, "xXpP_nNiI") {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && !math.IsInf(v, 0)
}
