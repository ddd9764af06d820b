package server

import (
	"bytes"
	"net/http"

	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// spotView is the short answer that the map shows.
type spotView struct {
	Lang    say.Lang
	Place   string
	Verdict sheet.Verdict
	Chances []sheet.ChanceRow
	Water   sheet.Table
	Near    string // how far the nearest bore is; empty without any
	Full    linkView
}

// shortChances is how many methods the short answer names.
const shortChances = 2

// spot answers GET /spot: a part of a page.
func (s *Server) spot(c echo.Context) error {
	a, err := s.answer(c)
	if err != nil {
		return err
	}
	if unchanged(c, s.pageTag(c, append(adviceTag(a), "spot")...)) {
		return notModified(c)
	}
	p := s.speaker(c)
	all := sheet.New(s.Catalogue, p.lang, a)
	v := spotView{
		Lang: p.lang, Verdict: all.Verdict, Chances: all.Chance.Rows[:min(shortChances, len(all.Chance.Rows))], Water: all.Water,
		Place: p.place(a.Question.At),
		Full:  linkView{Name: p.Say("map.full-advice"), Href: "/advice?" + placeQuery(a.Question.At, p.lang.String()).Encode()},
	}
	if a.Question.Village != "" {
		v.Place = a.Question.Village + ", " + v.Place
	}
	if m, known := a.Evidence.NearestM.Get(); known {
		v.Near = p.Say("map.nearest-bore", say.With("distance", say.Distance(m)))
	}
	return s.part(c, "spot.html", v)
}

func (s speaker) place(p coord.LonLat) string {
	return s.Say("value.place", say.With("place", say.Position(p.Lat, p.Lon)))
}

// part answers with a part of a page, which stands in a page of the same language.
func (s *Server) part(c echo.Context, name string, v any) error {
	var body bytes.Buffer
	if err := s.templates.ExecuteTemplate(&body, name, v); err != nil {
		return err
	}
	return c.HTMLBlob(http.StatusOK, body.Bytes())
}
