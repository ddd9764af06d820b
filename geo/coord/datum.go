package coord

import (
	"fmt"
	"regexp"
	"strings"
)

// Datum is a geodetic datum met in field data.
type Datum int

// The datums known here. Add only to the end: the numbers are not stored, the
// EPSG codes are.
const (
	WGS84 Datum = iota
	Arc1950
	Arc1960
	Adindan
	Minna
)

// datumInfo describes a datum. Source: EPSG dataset v10.076 as shipped with
// PROJ 9.1.1; ellipsoids by datum as there.
type datumInfo struct {
	name        string
	epsg        int // geographic 2D reference system
	figure      ellipsoid
	projection  kruger
	writtenForm *regexp.Regexp
}

var datums = [...]datumInfo{
	WGS84:   {"WGS 84", 4326, wgs84, newKruger(wgs84), regexp.MustCompile(`WGS[ _-]*(19)?84`)},
	Arc1950: {"Arc 1950", 4209, clarke1880Arc, newKruger(clarke1880Arc), regexp.MustCompile(`ARC[ _-]*(19)?50`)},
	Arc1960: {"Arc 1960", 4210, clarke1880RGS, newKruger(clarke1880RGS), regexp.MustCompile(`ARC[ _-]*(19)?60`)},
	Adindan: {"Adindan", 4201, clarke1880RGS, newKruger(clarke1880RGS), regexp.MustCompile(`ADINDAN`)},
	Minna:   {"Minna", 4263, clarke1880RGS, newKruger(clarke1880RGS), regexp.MustCompile(`MINNA`)},
}

// Datums returns every datum known here.
func Datums() []Datum {
	out := make([]Datum, len(datums))
	for i := range out {
		out[i] = Datum(i)
	}
	return out
}

// String returns the datum's EPSG name.
func (d Datum) String() string {
	if !d.known() {
		return fmt.Sprintf("Datum(%d)", int(d))
	}
	return datums[d].name
}

// EPSG returns the code of the datum's geographic reference system.
func (d Datum) EPSG() int { return datums[d].epsg }

func (d Datum) known() bool { return d >= 0 && int(d) < len(datums) }

// ParseDatum reads a datum's name ("Arc 1950", "WGS84") or the EPSG code of its
// geographic reference system ("EPSG:4209"). Errors: [ReadError].
func ParseDatum(text string) (Datum, error) {
	if code, ok := epsgCode(text); ok {
		for d, info := range datums {
			if info.epsg == code {
				return Datum(d), nil
			}
		}
		return 0, &ReadError{Part: PartDatum, Text: text, Code: Unsupported}
	}
	d, rest, found := cutDatum(strings.ToUpper(text))
	if !found || strings.TrimSpace(rest) != "" {
		return 0, &ReadError{Part: PartDatum, Text: text, Code: Unreadable}
	}
	return d, nil
}

// cutDatum takes the first datum named in an upper-case text out of it.
func cutDatum(upper string) (d Datum, rest string, found bool) {
	for i, info := range datums {
		if at := info.writtenForm.FindStringIndex(upper); at != nil {
			return Datum(i), upper[:at[0]] + " " + upper[at[1]:], true
		}
	}
	return WGS84, upper, false
}
