package strata

import "math"

// Setting is the shape of the land at a place.
type Setting struct {
	AboveDrainageM float64 // height above the drainage that it drains to
	Slope          float64 // m/m
}

// The differences that make one unit apart: a third in the height above drainage, and a
// slope of 2 in 100. Chosen by block-held-out log score on invented regions that are not
// among those reported; how much a unit counts is chosen in each region anew.
const (
	heightUnit = 0.3
	slopeUnit  = 0.02
	flatM      = 3.0 // heights below it are hardly told apart
)

// Apart returns how different two settings are,
//
//	|ln((h₁+3)/(h₂+3))| / 0.3 + |s₁-s₂| / 0.02.
//
// Ground close to drainage is laid down by it, ground high above it is weathered in place.
//
//   - Units: heights in metres, slopes in m/m; the result in units of which each weighs a
//     log down by as much as the fit found.
//   - Domain: heights below 0 are taken as 0.
//   - Errors: none.
//   - Source: none; the form was chosen by held-out log score.
//   - Checked by: TestSettingsApart.
func (s Setting) Apart(other Setting) float64 {
	height := func(s Setting) float64 { return math.Log(max(s.AboveDrainageM, 0) + flatM) }
	return math.Abs(height(s)-height(other))/heightUnit + math.Abs(s.Slope-other.Slope)/slopeUnit
}
