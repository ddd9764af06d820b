package server

import (
	"net/url"
	"strconv"

	"github.com/labstack/echo/v4"
)

// mapPicture answers GET /map.svg.
func (s *Server) mapPicture(c echo.Context) error {
	ctx, q := c.Request().Context(), c.QueryParams()
	px, err := pictureSize(q)
	if err != nil {
		return err
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
	return sendScene(c, scene)
}

// pictureSize reads the side of a map in pixels.
func pictureSize(q url.Values) (int, error) {
	text := q.Get("px")
	if text == "" {
		return smallPX, nil
	}
	px, err := strconv.Atoi(text)
	if err != nil || (px != smallPX && px != largePX) {
		return 0, badParameter("px", text)
	}
	return px, nil
}
