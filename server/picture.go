package server

import (
	"bytes"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"
)

// mapPicture answers GET /map.svg.
func (s *Server) mapPicture(c echo.Context) error {
	ctx, q := c.Request().Context(), c.QueryParams()
	px, err := strconv.Atoi(q.Get("px"))
	if q.Get("px") == "" {
		px, err = smallPX, nil
	}
	if err != nil || (px != smallPX && px != largePX) {
		return badParameter("px", q.Get("px"))
	}
	around, err := centred(q, "around")
	if err != nil {
		return err
	}
	site, err := centred(q, "site")
	if err != nil {
		return err
	}
	l := s.language(c)
	state, err := s.Ground.State(ctx)
	if err != nil {
		return err
	}
	if unchanged(c, tag("map", state, s.Version, l.String(), c.Request().URL.RawQuery)) {
		return notModified(c)
	}
	m, err := s.chart(ctx, around, px)
	if err != nil {
		return err
	}
	scene, err := m.Draw(s.Catalogue, l, m.ground, site)
	if err != nil {
		return err
	}
	var body bytes.Buffer
	if err := scene.WriteSVG(&body); err != nil {
		return err
	}
	return c.Blob(http.StatusOK, "image/svg+xml", body.Bytes())
}
