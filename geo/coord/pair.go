package coord

import (
	"errors"
	"strings"
)

// Order says which coordinate of a pair comes first where no letters tell it.
type Order int

// The orders. UnknownOrder leaves a pair without letters ambiguous, unless only
// one order keeps the latitude within 90 degrees.
const (
	UnknownOrder Order = iota
	LatLonOrder
	LonLatOrder
)

// ReadPair reads both coordinates from one text: two angles on WGS 84 in any
// form of [ReadAngle], or a UTM zone with easting and northing, "37N 442797
// 777230" or "36L 583611 8456273", with a datum's name before or after it if it
// is not WGS 84. The order matters only for angles without letters.
//
//   - Errors: [ReadError]. Every way to split the text is tried; if more than one
//     makes sense it is Ambiguous, as is a zone such as 36S whose S could be the
//     hemisphere or the band.
//   - Checked by: TestReadPair, FuzzReadPair.
func ReadPair(text string, order Order) (Reading, error) {
	switch {
	case strings.TrimSpace(text) == "":
		return Reading{}, &ReadError{Part: PartPair, Text: text, Code: Empty}
	case len(text) > maxText:
		return Reading{}, &ReadError{Part: PartPair, Text: clip(text), Code: TooLong}
	}
	if r, ok, err := readZonedPair(text); ok {
		return r, err
	}
	r, code := readAnglePair(text, order)
	if code != "" {
		return Reading{}, &ReadError{Part: PartPair, Text: text, Code: code}
	}
	r.AsRead = text
	return r, nil
}

// readAnglePair collects the distinct readings over all splits and orders.
func readAnglePair(text string, order Order) (Reading, Code) {
	var found []Reading
	halves, ok := splits(text)
	if !ok {
		return Reading{}, Ambiguous
	}
	why := Unreadable
	for _, s := range halves {
		for _, r := range readEitherOrder(s[0], s[1], order) {
			if len(found) == 0 || found[0].Pos != r.Pos {
				found = append(found, r)
			}
		}
		if beyond(s[0], s[1]) || beyond(s[1], s[0]) {
			why = OutOfRange
		}
	}
	switch len(found) {
	case 0:
		return Reading{}, why
	case 1:
		return found[0], ""
	}
	return Reading{}, Ambiguous
}

// beyond reports two angles that would be a longitude and a latitude if there were any so far
// off.
func beyond(lonText, latText string) bool {
	_, _, lon := ReadAngle(lonText, Longitude)
	_, _, lat := ReadAngle(latText, Latitude)
	return (lon == nil || isOut(lon)) && (lat == nil || isOut(lat)) && (isOut(lon) || isOut(lat))
}

func isOut(err error) bool {
	var why *ReadError
	return errors.As(err, &why) && why.Code == OutOfRange
}

// readEitherOrder reads the two halves in each order that the letters, the
// ranges and the stated order allow.
func readEitherOrder(first, second string, order Order) []Reading {
	var found []Reading
	lettered := hasSide(first) || hasSide(second)
	if lettered || order != LonLatOrder {
		if r, err := ReadLonLat(second, first); err == nil {
			found = append(found, r)
		}
	}
	if lettered || order != LatLonOrder {
		if r, err := ReadLonLat(first, second); err == nil {
			found = append(found, r)
		}
	}
	return found
}

func hasSide(text string) bool {
	tokens, _ := scanAngle(text)
	for _, t := range tokens {
		if t.kind == sideToken {
			return true
		}
	}
	return false
}
