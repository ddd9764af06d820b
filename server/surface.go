package server

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// The zooms at which surfaces are worked out: cells of 20 km to 150 m at the equator.
const (
	surfaceLeast = 7
	surfaceMost  = 14
)

// asksSurface reads which surface is meant, and by which method.
func (s *Server) asksSurface(of string, q url.Values) (draw.Ramp, geo.Method, error) {
	ramp, ok := draw.RampOf(of)
	if !ok {
		return ramp, "", badParameter("of", of)
	}
	method := geo.Method(q.Get("method"))
	if method != "" && !slices.Contains(s.Surveyor.SurfaceMethods(), method) {
		return ramp, "", badParameter("method", string(method))
	}
	return ramp, method, nil
}

// surfaceTile answers GET /tiles/surface/:of/:z/:x/:y with what is known so far, and has
// the rest worked out.
func (s *Server) surfaceTile(c echo.Context) error {
	of := c.Param("of")
	ramp, method, err := s.asksSurface(of, c.QueryParams())
	if err != nil {
		return err
	}
	key, err := surfaceAddress(c)
	if err != nil {
		return err
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	key.method = method
	known := s.survey.look(s.life, state, key)
	if unchanged(c, tag("surface", state, s.Version, of, string(method), c.Request().URL.Path, strconv.Itoa(known.side))) {
		return notModified(c)
	}
	body, err := paintSurface(of, ramp, known)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "private, no-cache") // it becomes finer
	return c.Blob(http.StatusOK, "image/png", body)
}

// surfaceAddress reads the address of a tile.
func surfaceAddress(c echo.Context) (surveyKey, error) {
	var at [3]int
	for i, name := range []string{"z", "x", "y"} {
		v, err := strconv.Atoi(c.Param(name))
		if err != nil {
			return surveyKey{}, badParameter(name, c.Param(name))
		}
		at[i] = v
	}
	z, x, y := at[0], at[1], at[2]
	if z < surfaceLeast || z > surfaceMost || x < 0 || y < 0 || x >= 1<<z || y >= 1<<z {
		return surveyKey{}, geo.Fail(geo.NotFound, "server.surfaceTile", geo.Say("problem.page-not-found"), nil)
	}
	return surveyKey{z: z, x: x, y: y}, nil
}

// surfaceLegend is what a map needs to show a surface and to explain it.
type surfaceLegend struct {
	Of        string         `json:"of"`
	Name      string         `json:"name"`
	Meaning   string         `json:"meaning"`
	Classes   []surfaceClass `json:"classes"`
	Few       surfaceClass   `json:"few"`
	Tiles     string         `json:"tiles"` // with {z}, {x} and {y} to be filled in
	Least     int            `json:"least"` // zooms
	Most      int            `json:"most"`
	surveying                // asked again, it tells of tiles that have become finer
}

// surfaceClass is one class of values.
type surfaceClass struct {
	Colour string `json:"colour"`
	Words  string `json:"words"`
}

// surfaceJSON answers GET /surface.json: the legend of a surface and how far it is.
func (s *Server) surfaceJSON(c echo.Context) error {
	of := c.QueryParam("of")
	ramp, method, err := s.asksSurface(of, c.QueryParams())
	if err != nil {
		return err
	}
	p := s.speaker(c)
	out := surfaceLegend{
		Of: of, Name: p.Say("surface." + of), Meaning: p.Say("surface." + of + ".meaning"),
		Few:   surfaceClass{draw.Few, p.Say("surface.few")},
		Tiles: "/tiles/surface/" + of + "/{z}/{x}/{y}", Least: surfaceLeast, Most: surfaceMost,
		surveying: s.survey.far(),
	}
	if method != "" {
		out.Tiles += "?method=" + url.QueryEscape(string(method))
	}
	for i, colour := range ramp.Colours {
		out.Classes = append(out.Classes, surfaceClass{colour, p.class(ramp, i)})
	}
	c.Response().Header().Set("Cache-Control", "private, no-cache")
	return c.JSON(http.StatusOK, out)
}

// class says which values a class of a ramp holds.
func (s speaker) class(r draw.Ramp, i int) string {
	value := func(v float64) say.Value {
		switch r.Kind {
		case draw.RampDepth:
			return say.Metres(v)
		case draw.RampCount:
			return say.Count(int(v))
		}
		return say.Share(v)
	}
	switch {
	case i == 0:
		return s.Say("surface.below", say.With("most-of", value(r.Limits[0])))
	case i == len(r.Limits):
		return s.Say("surface.above", say.With("least-of", value(r.Limits[i-1])))
	}
	return s.Say("surface.between", say.With("least-of", value(r.Limits[i-1])), say.With("most-of", value(r.Limits[i])))
}
