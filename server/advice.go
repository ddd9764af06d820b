package server

import (
	"bytes"
	"context"
	"net/http"
	"net/url"

	"waterstrike/advisor"
	"waterstrike/geo/coord"
	"waterstrike/server/account"
	"waterstrike/server/sheet"

	"github.com/labstack/echo/v4"
)

// answer reads the question and asks the advisor, within the time that a person waits.
func (s *Server) answer(c echo.Context) (advisor.Advice, error) {
	q, err := s.question(c)
	if err != nil {
		return advisor.Advice{}, err
	}
	ctx, cancel := context.WithTimeout(c.Request().Context(), answerTimeout)
	defer cancel()
	return s.Advisor.Advise(ctx, q)
}

// adviceJSON answers GET /advice.json.
func (s *Server) adviceJSON(c echo.Context) error {
	a, err := s.answer(c)
	if err != nil {
		return err
	}
	if unchanged(c, tag(append(adviceTag(a), "json")...)) {
		return notModified(c)
	}
	body, err := sheet.JSON(a)
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, echo.MIMEApplicationJSON, body)
}

// advice answers GET /advice: a click on the map is sent on to the place it means, so
// that the address can be kept and passed on.
func (s *Server) advice(c echo.Context) error {
	p, clicked, err := s.click(c.Request().Context(), c.QueryParams())
	if err != nil {
		return err
	}
	if clicked {
		return c.Redirect(http.StatusSeeOther, "/advice?"+placeQuery(p, c.QueryParam("lang")).Encode())
	}
	a, err := s.answer(c)
	if err != nil {
		return err
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	l := s.language(c)
	if unchanged(c, s.pageTag(c, append(adviceTag(a), "page", state)...)) {
		return notModified(c)
	}
	v, err := s.advicePage(c, l, a)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, v)
}

// building answers GET /building.
func (s *Server) building(c echo.Context) error {
	a, err := s.answer(c)
	if err != nil {
		return err
	}
	if unchanged(c, s.pageTag(c, append(adviceTag(a), "building")...)) {
		return notModified(c)
	}
	l := s.language(c)
	v := s.frame(c, l)
	v.Building = &buildingView{sheet.NewBuilding(s.Catalogue, l, a), l, "/advice?" + dataQuery(c.QueryParams()).Encode(), ""}
	if a.Plan != nil {
		v.Building.PDF = "/building.pdf?" + dataQuery(c.QueryParams()).Encode() + "&lang=" + l.String()
	}
	v.Title = v.Building.Title
	return s.show(c, http.StatusOK, v)
}

// buildingPDF answers GET /building.pdf: the building sheet for paper.
func (s *Server) buildingPDF(c echo.Context) error {
	a, err := s.answer(c)
	if err != nil {
		return err
	}
	l := s.language(c)
	if unchanged(c, tag(append(adviceTag(a), "building.pdf", l.String())...)) {
		return notModified(c)
	}
	var out bytes.Buffer
	if err := sheet.BuildingPDF(&out, s.Catalogue, l, a); err != nil {
		return err
	}
	return c.Blob(http.StatusOK, "application/pdf", out.Bytes())
}

func placeQuery(p coord.LonLat, lang string) url.Values {
	q := url.Values{"lat": {degrees(p.Lat)}, "lon": {degrees(p.Lon)}}
	if lang != "" {
		q.Set("lang", lang)
	}
	return q
}

// health answers GET /health: 200 when the records can be read. What else it tells is for
// those who may read.
func (s *Server) health(c echo.Context) error {
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	told := map[string]string{"status": "ok"}
	if s.visitor(c).role >= account.Reader {
		told["version"], told["state"] = s.Version, state
	}
	return c.JSON(http.StatusOK, told)
}
