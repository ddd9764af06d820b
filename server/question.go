package server

import (
	"net/url"
	"strconv"
	"strings"
	"unicode/utf8"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/labstack/echo/v4"
)

const (
	maxText     = 120 // characters of a position or name
	defaultSeed = 1
)

// position reads a point given in words; ok is false when there is none.
func position(q url.Values) (p coord.LonLat, ok bool, err error) {
	at, lat, lon := q.Get("at"), q.Get("lat"), q.Get("lon")
	var r coord.Reading
	switch {
	case strings.TrimSpace(at) != "":
		r, err = coord.ReadPair(at, coord.LatLonOrder)
	case strings.TrimSpace(lat+lon) != "":
		at = lat + " " + lon
		r, err = coord.ReadLonLat(lon, lat)
	default:
		return coord.LonLat{}, false, nil
	}
	if utf8.RuneCountInString(at) > maxText {
		return coord.LonLat{}, true, geo.Fail(geo.Invalid, "server.position", geo.Say("problem.too-long"), nil)
	}
	return r.Pos, true, unreadable(err, at)
}

// unreadable tells which of the ways a position can be wrong it is.
func unreadable(err error, text string) error {
	if err == nil {
		return nil
	}
	return geo.Misread("server.position", clip(text), err)
}

// seed reads the seed of the random draws.
func seed(q url.Values) (uint64, error) {
	text := q.Get("seed")
	if text == "" {
		return defaultSeed, nil
	}
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil {
		return 0, badParameter("seed", text)
	}
	return n, nil
}

func badParameter(field, text string) error {
	return geo.Fail(geo.Invalid, "server.question", geo.Say("problem.bad-parameter",
		geo.With("value", geo.Text(clip(text))), geo.With("field", geo.Text(field))), nil)
}

// question reads what is asked: where, with which methods at hand, by which random draws.
func (s *Server) question(c echo.Context) (advisor.Question, error) {
	out, err := s.where(c)
	if err != nil {
		return advisor.Question{}, err
	}
	out.Method = geo.Method(strings.TrimSpace(c.QueryParam("method")))
	out.Seed, err = seed(c.QueryParams())
	return out, err
}

// where reads a point by position or village. A click on a map is read by click.
func (s *Server) where(c echo.Context) (advisor.Question, error) {
	q := c.QueryParams()
	p, ok, err := position(q)
	if ok || err != nil {
		return advisor.Question{At: p}, err
	}
	if name := strings.TrimSpace(q.Get("village")); name != "" {
		v, err := s.village(c.Request().Context(), name)
		return advisor.Question{At: v.Position.Pos, Village: v.Name}, err
	}
	return advisor.Question{}, geo.Fail(geo.Invalid, "server.question", geo.Say("problem.no-position"), nil)
}
