package coord

import (
	"regexp"
	"strconv"
	"strings"
)

// maxText bounds what any reader here looks at.
const maxText = 100

var (
	epsgForm = regexp.MustCompile(`(?i)^\s*(?:urn:ogc:def:crs:)?(?:EPSG:{0,2})?\s*(\d{4,5})\s*$`)
	zoneForm = regexp.MustCompile(`^(?:UTM)?(?:ZONE|FUSEAU|FUSO|ZONA|HUSO)?(\d{1,2})([A-Z]*)$`)
)

// ParseProjection reads the name of a UTM grid: "EPSG:32637", "UTM 37N", "WGS 84
// / UTM zone 37N", "Arc 1950 / UTM zone 36S", "37N". Without a datum it is WGS 84.
// A single letter S or N is the hemisphere; other letters are latitude bands.
// Errors: [ReadError].
func ParseProjection(text string) (Projection, error) {
	fail := func(code Code) (Projection, error) {
		return Projection{}, &ReadError{Part: PartProjection, Text: clip(text), Code: code}
	}
	if strings.TrimSpace(text) == "" {
		return fail(Empty)
	}
	if len(text) > maxText {
		return fail(TooLong)
	}
	if code, ok := epsgCode(text); ok {
		if c, ok := projectionByEPSG(code); ok {
			return c, nil
		}
		return fail(Unsupported)
	}
	datum, rest, _ := cutDatum(strings.ToUpper(text))
	m := zoneForm.FindStringSubmatch(dropPunctuation(rest))
	if m == nil {
		return fail(Unreadable)
	}
	c, _, code := parseZone(datum, m[1], m[2])
	if code != "" {
		return fail(code)
	}
	return c, nil
}

// parseZone reads a zone number and the letters after it, and returns the band
// letter where they are one. The letters N and S count as hemispheres.
func parseZone(d Datum, number, letters string) (c Projection, band string, wrong Code) {
	zone, err := strconv.Atoi(number)
	if err != nil || zone < 1 || zone > 60 {
		return c, "", OutOfRange
	}
	c = Projection{Datum: d, Zone: zone}
	switch letters {
	case "":
		return c, "", NoHemisphere
	case "N", "NORTH", "NORD", "NORTE":
		return c, "", ""
	case "S", "SOUTH", "SUD", "SUL", "SUR":
		c.South = true
		return c, "", ""
	}
	if len(letters) != 1 || !strings.Contains(bandLetters, letters) {
		return c, "", Unreadable
	}
	c.South = letters < "N"
	return c, letters, ""
}

// bandLetters are the UTM latitude bands from 80 south, eight degrees each (the
// last, X, twelve). Source: DMA TM 8358.1 (1990), chapter 3.
const bandLetters = "CDEFGHJKLMNPQRSTUVWX"

// bandHolds reports whether a latitude lies in a band, give or take half a
// degree: positions near the edge are often written with the neighbour's letter.
func bandHolds(band string, latDeg float64) bool {
	const slack = 0.5
	south := float64(strings.Index(bandLetters, band)*8 - 80)
	north := south + 8
	if band == "X" {
		north = 84
	}
	return latDeg >= south-slack && latDeg <= north+slack
}

func epsgCode(text string) (int, bool) {
	m := epsgForm.FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	code, err := strconv.Atoi(m[1])
	return code, err == nil
}

func dropPunctuation(text string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" \t/,;:-_()", r) {
			return -1
		}
		return r
	}, text)
}

// clip keeps an error's quotation short.
func clip(text string) string {
	if len(text) <= maxText {
		return text
	}
	return strings.ToValidUTF8(text[:maxText], "") + "..."
}
