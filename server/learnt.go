package server

import (
	"encoding/json"
	"net/http"

	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// learnt answers GET /learnt: what the present answers were learnt from.
func (s *Server) learnt(c echo.Context) error {
	fits, err := s.Learner.Fits(c.Request().Context())
	if err != nil {
		return err
	}
	if unchanged(c, s.pageTag(c, "learnt", fits.Snapshot, fits.Now)) {
		return notModified(c)
	}
	l := s.language(c)
	page, err := sheet.NewFitsPage(s.Catalogue, l, fits)
	if err != nil {
		return err
	}
	v := s.frame(c, l)
	v.Title = s.Catalogue.Say(l, say.Msg("screen.learnt"))
	v.Account = &accountView{Account: page, Lang: l, Data: "/learnt.json"}
	return s.show(c, http.StatusOK, v)
}

// learntJSON answers GET /learnt.json.
func (s *Server) learntJSON(c echo.Context) error {
	fits, err := s.Learner.Fits(c.Request().Context())
	if err != nil {
		return err
	}
	if unchanged(c, tag("learnt.json", fits.Snapshot, fits.Now, s.Version)) {
		return notModified(c)
	}
	body, err := json.MarshalIndent(fits, "", "  ")
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, echo.MIMEApplicationJSON, append(body, '\n'))
}
