package coord

import (
	"regexp"
	"strings"
)

// zonedForm is a zone, a hemisphere or band, an easting of at least five digits
// (so that it is no angle) and a northing.
var zonedForm = regexp.MustCompile(`^(?:UTM )?(?:ZONE )?(\d{1,2}) ?([A-Z]+),? (\d{5,7}(?:[.,]\d+)?)(?: ?M?E)?,? (-?\d{1,8}(?:[.,]\d+)?)(?: ?M?N)?$`)

// readZonedPair reads a UTM position; ok is false where the text is none.
func readZonedPair(text string) (r Reading, ok bool, err error) {
	datum, rest, _ := cutDatum(strings.ToUpper(text))
	clean := strings.Trim(spaces.ReplaceAllString(rest, " "), " /,;:")
	m := zonedForm.FindStringSubmatch(clean)
	if m == nil {
		return Reading{}, false, nil
	}
	crs, band, code := parseZone(datum, m[1], m[2])
	if code != "" {
		return Reading{}, true, &ReadError{Part: PartProjection, Text: clip(text), Code: code}
	}
	r, err = ReadProjected(m[3], m[4], crs)
	if err != nil {
		return Reading{}, true, err
	}
	if code := checkBand(r, crs, band, m[2:5]); code != "" {
		return Reading{}, true, &ReadError{Part: PartPair, Text: clip(text), Code: code}
	}
	r.AsRead = text
	return r, true, nil
}

// checkBand compares a band letter with the latitude read, and looks whether an
// S taken for the south could also be band S, 32 to 40 north.
func checkBand(r Reading, crs Projection, band string, letterEastNorth []string) Code {
	if band != "" && !bandHolds(band, r.Pos.Lat) {
		return Contradicts
	}
	if letterEastNorth[0] != "S" {
		return ""
	}
	crs.South = false
	other, err := ReadProjected(letterEastNorth[1], letterEastNorth[2], crs)
	if err == nil && bandHolds("S", other.Pos.Lat) {
		return Ambiguous
	}
	return ""
}
