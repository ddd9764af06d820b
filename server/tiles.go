package server

import (
	"net/http"
	"strconv"

	"waterstrike/geo"
	"waterstrike/server/tile"

	"github.com/labstack/echo/v4"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/maptile"
)

// vectorTile is the media type of the Mapbox Vector Tile specification, 2.1.
const vectorTile = "application/vnd.mapbox-vector-tile"

// address reads the zoom, column and row of a tile.
func address(c echo.Context) (maptile.Tile, error) {
	var at [3]int
	for i, name := range []string{"z", "x", "y"} {
		n, err := strconv.Atoi(c.Param(name))
		if err != nil {
			return maptile.Tile{}, echo.ErrNotFound
		}
		at[i] = n
	}
	return tile.Address(at[0], at[1], at[2])
}

// cut answers with what make makes of a tile, unless the asker has it: from the same state
// of everything named comes the same tile.
func (s *Server) cut(c echo.Context, media string, make func(maptile.Tile) ([]byte, error), of ...string) error {
	t, err := address(c)
	if err != nil {
		return err
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	if unchanged(c, tag(append(of, s.Version, state, c.Request().URL.RequestURI())...)) {
		return notModified(c)
	}
	body, err := make(t)
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, media, body)
}

// boreTile answers GET /tiles/bores/:z/:x/:y.
func (s *Server) boreTile(c echo.Context) error {
	f, err := boresMeant(c.QueryParams())
	if err != nil {
		return err
	}
	bores, err := s.Atlas.Arranged(c.Request().Context())
	if err != nil {
		return err
	}
	return s.cut(c, vectorTile, func(t maptile.Tile) ([]byte, error) { return mvt.Marshal(bores.Layers(t, f)) })
}

// placeTile answers GET /tiles/places/:z/:x/:y.
func (s *Server) placeTile(c echo.Context) error {
	places, err := s.Atlas.Places(c.Request().Context())
	if err != nil {
		return err
	}
	streams := strconv.Itoa(len(places.Streams)) // they come when they have been worked out
	return s.cut(c, vectorTile, func(t maptile.Tile) ([]byte, error) { return mvt.Marshal(places.Layers(t)) }, streams)
}

// contourTile answers GET /tiles/contours/:z/:x/:y.
func (s *Server) contourTile(c echo.Context) error {
	return s.landTile(c, vectorTile, func(r *tile.Relief, t maptile.Tile) ([]byte, error) { return mvt.Marshal(r.Contours(t)) })
}

// shadeTile answers GET /tiles/shade/:z/:x/:y.
func (s *Server) shadeTile(c echo.Context) error {
	return s.landTile(c, "image/png", (*tile.Relief).Shade)
}

// landTile answers with a tile of the land where its shape is known.
func (s *Server) landTile(c echo.Context, media string, make func(*tile.Relief, maptile.Tile) ([]byte, error)) error {
	relief := s.Atlas.Relief()
	return s.cut(c, media, func(t maptile.Tile) ([]byte, error) {
		if relief == nil || !relief.Covers(t) {
			return nil, noTile()
		}
		return make(relief, t)
	}, strconv.FormatBool(relief != nil))
}

// chartTile answers GET /tiles/charts/:chart/:z/:x/:y.
func (s *Server) chartTile(c echo.Context) error {
	n, err := strconv.Atoi(c.Param("chart"))
	charts := s.Atlas.Charts()
	if err != nil || n < 0 || n >= len(charts) {
		return noTile()
	}
	var at [3]int
	for i, name := range []string{"z", "x", "y"} {
		if at[i], err = strconv.Atoi(c.Param(name)); err != nil {
			return noTile()
		}
	}
	body, media, err := charts[n].Pictures.Picture(c.Request().Context(), at[0], at[1], at[2])
	if err != nil {
		return err
	}
	if unchanged(c, tag("chart", string(body))) {
		return notModified(c)
	}
	return c.Blob(http.StatusOK, media, body)
}

func noTile() error { return geo.Fail(geo.NotFound, "server.tile", geo.Say("problem.no-tile"), nil) }
