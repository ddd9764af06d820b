package server

import (
	"context"
	"net/url"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"

	"github.com/paulmach/orb"
)

const (
	smallPX   = 320 // sides of the two maps of the page, in CSS pixels
	largePX   = 560
	nearHalfM = 5000 // half the side of the map around a point
	maxBores  = 1500 // drawn on one map; more would only cover each other
)

var world = orb.Bound{Min: orb.Point{-180, -90}, Max: orb.Point{180, 90}}

// mapped is a chart with what it shows.
type mapped struct {
	sheet.Chart
	ground sheet.Ground
	total  int // bores in its area, drawn or not
}

// chart prepares the map of a side: of the whole region, or around a point.
func (s *Server) chart(ctx context.Context, around *coord.LonLat, px int) (mapped, error) {
	m := mapped{}
	box := world
	if around != nil {
		m.Chart = sheet.Near(*around, nearHalfM, px)
		upper, lower := m.Place(0, 0), m.Place(1, 1)
		box = orb.Bound{Min: orb.Point{upper.Lon, lower.Lat}, Max: orb.Point{lower.Lon, upper.Lat}}
	}
	var err error
	if m.ground, err = s.surroundings(ctx); err != nil {
		return m, err
	}
	if m.ground.Bores, m.total, err = s.Ground.Bores(ctx, box, maxBores); err != nil {
		return m, err
	}
	if around == nil {
		m.Chart, err = sheet.Whole(m.ground, px)
	}
	return m, err
}

// surroundings lists what a map shows besides bores.
func (s *Server) surroundings(ctx context.Context) (g sheet.Ground, err error) {
	if g.Villages, err = s.Ground.Villages(ctx); err != nil {
		return g, err
	}
	if g.Rivers, err = s.Ground.Rivers(ctx); err != nil {
		return g, err
	}
	g.Boundaries, err = s.Ground.Boundaries(ctx)
	return g, err
}

// centred reads a point of the query written as "lat,lon"; nil when there is none.
func centred(q url.Values, name string) (*coord.LonLat, error) {
	text := q.Get(name)
	if text == "" {
		return nil, nil
	}
	r, err := coord.ReadPair(text, coord.LatLonOrder)
	if err != nil || len(text) > maxText {
		return nil, badParameter(name, text)
	}
	return &r.Pos, nil
}

func plain(p coord.LonLat) string { return degrees(p.Lat) + "," + degrees(p.Lon) }

// degrees writes an angle to a hundred-thousandth of a degree, about a metre.
func degrees(v float64) string { return strconv.FormatFloat(v, 'f', 5, 64) }

// click reads a click on one of the page's maps; ok is false when there is none.
func (s *Server) click(ctx context.Context, q url.Values) (p coord.LonLat, ok bool, err error) {
	px, name := smallPX, "s"
	if q.Has("l.x") {
		px, name = largePX, "l"
	}
	if !q.Has(name + ".x") {
		return coord.LonLat{}, false, nil
	}
	x, err := pixel(q, name+".x", px)
	if err != nil {
		return coord.LonLat{}, true, err
	}
	y, err := pixel(q, name+".y", px)
	if err != nil {
		return coord.LonLat{}, true, err
	}
	if x == 0 && y == 0 { // a browser sends this for the Enter key: no point was chosen
		return coord.LonLat{}, true, geo.Fail(geo.Invalid, "server.click", geo.Say("problem.no-position"), nil)
	}
	around, err := centred(q, "around")
	if err != nil {
		return coord.LonLat{}, true, err
	}
	m, err := s.chart(ctx, around, px)
	return m.Place(float64(x)/float64(px), float64(y)/float64(px)), true, err
}

func pixel(q url.Values, name string, px int) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(q.Get(name)))
	if err != nil || n < 0 || n > px {
		return 0, badParameter(name, q.Get(name))
	}
	return n, nil
}
