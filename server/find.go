package server

import (
	"net/http"
	"strings"
	"unicode/utf8"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// foundView is one place that a search may mean.
type foundView struct {
	Name string  `json:"name"`
	Kind string  `json:"kind"` // what it is, in the reader's language
	Lat  float64 `json:"lat"`
	Lon  float64 `json:"lon"`
}

// find answers GET /find.json: a position in any form that is read, or the villages, water
// points and bores whose name holds the words.
func (s *Server) find(c echo.Context) error {
	found, err := s.search(c, s.speaker(c), strings.TrimSpace(c.QueryParam("q")))
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, map[string]any{"found": found})
}

func (s *Server) search(c echo.Context, p speaker, text string) ([]foundView, error) {
	if utf8.RuneCountInString(text) > maxText {
		return nil, geo.Fail(geo.Invalid, "server.search", geo.Say("problem.too-long"), nil)
	}
	if text == "" {
		return []foundView{}, nil
	}
	if r, err := coord.ReadPair(text, coord.LatLonOrder); err == nil {
		return []foundView{{p.place(r.Pos), p.Say("map.position"), r.Pos.Lat, r.Pos.Lon}}, nil
	}
	return s.named(c, p, text)
}

// foundRows lists what a search of the map means, for a browser that runs no scripts.
func (s *Server) foundRows(c echo.Context, p speaker, v *listingView, text string) (total int, err error) {
	found, err := s.search(c, p, text)
	if err != nil {
		return 0, err
	}
	v.Columns = p.words("map.name", "map.kind", "map.place")
	for _, x := range found {
		place := p.place(coord.LonLat{Lon: x.Lon, Lat: x.Lat})
		v.Rows = append(v.Rows, listingRow{Name: x.Name, Href: p.adviceAt(x.Lat, x.Lon), Cells: cells(v.Columns[1:], x.Kind, place)})
	}
	return len(found), nil
}

// named lists what is named so: the villages first, as they are what people know.
func (s *Server) named(c echo.Context, p speaker, text string) ([]foundView, error) {
	ctx, out := c.Request().Context(), []foundView{}
	places, err := s.Atlas.Places(ctx)
	if err != nil {
		return nil, err
	}
	same, like := matching(places.Villages, text)
	for _, v := range append(same, like...) {
		kind := p.Say("map.village")
		if n, known := v.People.Get(); known {
			kind += ", " + p.Say("screen.people", say.With("n", say.Count(n)))
		}
		out = append(out, foundView{v.Name, kind, v.Position.Pos.Lat, v.Position.Pos.Lon})
	}
	wanted := geo.FoldName(text)
	for _, w := range places.Points {
		if len(out) < choicesShown && strings.Contains(geo.FoldName(w.Name), wanted) {
			out = append(out, foundView{w.Name, p.Say("map.point"), w.Position.Pos.Lat, w.Position.Pos.Lon})
		}
	}
	bores, err := s.Atlas.Arranged(ctx)
	if err != nil {
		return nil, err
	}
	for _, b := range bores.Labelled(text, max(choicesShown-len(out), 0)) {
		out = append(out, foundView{b.Label, p.Say("map.bore") + ", " + p.Say("outcome."+string(b.Outcome)), b.Pos.Lat, b.Pos.Lon})
	}
	return out[:min(choicesShown, len(out))], nil
}
