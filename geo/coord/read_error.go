package coord

import "fmt"

// Part names the part of a position that could not be read.
type Part string

// The parts of a position.
const (
	PartLongitude  Part = "longitude"
	PartLatitude   Part = "latitude"
	PartPair       Part = "position"
	PartEasting    Part = "easting"
	PartNorthing   Part = "northing"
	PartProjection Part = "projection"
	PartDatum      Part = "datum"
)

// Code says what is wrong with a text.
type Code string

// What can be wrong with a text.
const (
	Empty        Code = "empty"
	TooLong      Code = "too-long"
	Unreadable   Code = "unreadable"
	OutOfRange   Code = "out-of-range"
	BadSixtieths Code = "bad-sixtieths" // minutes or seconds of 60 or more
	WrongAxis    Code = "wrong-axis"    // a letter of the other axis, such as E in a latitude
	Contradicts  Code = "contradicts"   // a sign together with a letter, or a band that disagrees
	Ambiguous    Code = "ambiguous"     // more than one reading makes sense
	NoHemisphere Code = "no-hemisphere" // a UTM zone without N, S or band letter
	Unsupported  Code = "unsupported"   // right, but not handled here
)

// ReadError reports a text that could not be read as a position.
type ReadError struct {
	Part Part
	Text string // as given
	Code Code
}

// Error names the part, the text and the forms accepted, in English.
func (e *ReadError) Error() string {
	return fmt.Sprintf("coord: cannot read %s %q: %s; accepted: %s", e.Part, e.Text, explanations[e.Code], acceptedForms[e.Part])
}

var explanations = map[Code]string{
	Empty:        "it is empty",
	TooLong:      "it is too long",
	Unreadable:   "the form is not known",
	OutOfRange:   "the value is out of range",
	BadSixtieths: "minutes and seconds must be below 60",
	WrongAxis:    "the letter belongs to the other axis",
	Contradicts:  "its parts contradict each other",
	Ambiguous:    "it can be read in more than one way",
	NoHemisphere: "the hemisphere is missing",
	Unsupported:  "it is not supported",
}

const angleForms = `5.5, -5,5, 5°30'N, 5 30 00 S, 5d30m0s W (O or W for west, L or E for east)`

var acceptedForms = map[Part]string{
	PartLongitude:  angleForms,
	PartLatitude:   angleForms,
	PartPair:       `"5.5 N, 0.5 W", "5°30'N 0°30'W", "37N 442797 777230"; say the order where no letters tell it`,
	PartEasting:    `442797, 442 797.5, 442797,5 in metres`,
	PartNorthing:   `777230, 777 230.5, 777230,5 in metres`,
	PartProjection: `"EPSG:32637", "UTM 37N", "Arc 1950 / UTM zone 36S"`,
	PartDatum:      `"WGS 84", "Arc 1950", "Arc 1960", "Adindan", "Minna" or its EPSG code`,
}
