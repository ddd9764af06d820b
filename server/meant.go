package server

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/server/tile"

	"github.com/paulmach/orb"
)

// The fields of a question for some of the bores. Maps, tiles and lists read them alike.
const (
	fieldOutcome  = "outcome" // may stand several times, as may method
	fieldMethod   = "method"
	fieldFromYear = "from"
	fieldToYear   = "to"
	fieldLeastM   = "least"
	fieldMostM    = "most"
	fieldBox      = "box" // west,south,east,north in degrees
)

// boresMeant reads which bores are meant; all where nothing is said.
func boresMeant(q url.Values) (f tile.Filter, err error) {
	for _, text := range given(q, fieldOutcome) {
		outcome := geo.Outcome(text)
		if !slices.Contains(geo.Outcomes(), outcome) {
			return f, badParameter(fieldOutcome, text)
		}
		f.Outcomes = append(f.Outcomes, outcome)
	}
	for _, text := range given(q, fieldMethod) {
		f.Methods = append(f.Methods, geo.Method(text))
	}
	if f.FromYear, err = yearOf(q, fieldFromYear); err != nil {
		return f, err
	}
	if f.ToYear, err = yearOf(q, fieldToYear); err != nil {
		return f, err
	}
	if f.LeastM, err = depthOf(q, fieldLeastM); err != nil {
		return f, err
	}
	f.MostM, err = depthOf(q, fieldMostM)
	return f, err
}

// given returns the values of a field that hold anything.
func given(q url.Values, field string) []string {
	return slices.DeleteFunc(slices.Clone(q[field]), func(text string) bool { return text == "" })
}

func yearOf(q url.Values, field string) (int, error) {
	text := strings.TrimSpace(q.Get(field))
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1800 || n > 2200 {
		return 0, badParameter(field, text)
	}
	return n, nil
}

func depthOf(q url.Values, field string) (none geo.Opt[float64], err error) {
	text := strings.TrimSpace(q.Get(field))
	if text == "" {
		return none, nil
	}
	m, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || !(m >= 0 && m < 20_000) {
		return none, badParameter(field, text)
	}
	return geo.Some(m), nil
}

// boxOf reads the part of the map that is meant; the world where nothing is said.
func boxOf(q url.Values) (orb.Bound, error) {
	text := q.Get(fieldBox)
	if text == "" {
		return world, nil
	}
	parts := strings.Split(text, ",")
	var v [4]float64
	for i := range v {
		if len(parts) != 4 {
			return world, badParameter(fieldBox, text)
		}
		n, err := strconv.ParseFloat(parts[i], 64)
		if err != nil || !(n >= -360 && n <= 360) {
			return world, badParameter(fieldBox, text)
		}
		v[i] = n
	}
	return orb.Bound{Min: orb.Point{v[0], v[1]}, Max: orb.Point{v[2], v[3]}}, nil
}
