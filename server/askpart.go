package server

import (
	"context"
	"errors"
	"math"
	"net/url"
	"slices"
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// maxListed is how many villages are sent for the browser to complete a name from. Where
// there are more, a part of the name is asked and the server offers what fits.
const maxListed = 3000

// askParts prepares the three ways to ask; below an answer they are folded away. The
// second result says what the answers draw on.
func (s *Server) askParts(c echo.Context, l say.Lang, asked *coord.LonLat) (*askView, string, error) {
	ctx, q := c.Request().Context(), c.QueryParams()
	villages, err := s.Ground.Villages(ctx)
	if err != nil {
		return nil, "", err
	}
	v := &askView{
		Lang: l, Tag: l.String(), MaxText: maxText, Folded: asked != nil, Open: q.Get("map") == "near",
		At: clip(q.Get("at")), Village: clip(q.Get("village")),
		VillageHint: s.Catalogue.Say(l, say.Msg("screen.village-hint", say.With("n", say.Count(len(villages))))),
	}
	if asked != nil && v.At == "" {
		v.At = degrees(asked.Lat) + " " + degrees(asked.Lon)
	}
	if len(villages) <= maxListed {
		for _, village := range villages {
			v.Villages = append(v.Villages, village.Name)
		}
		slices.Sort(v.Villages)
		v.Villages = slices.Compact(v.Villages)
	}
	if v.Map, err = s.mapPart(ctx, l, q, asked); err != nil {
		return nil, "", err
	}
	_, known, err := s.Ground.Bores(ctx, world, 0)
	return v, s.Catalogue.Say(l, say.Msg("screen.bores-known", say.With("n", say.Count(known)))), err
}

// mapPart prepares the map to click; nil where there is nothing to show on one.
func (s *Server) mapPart(ctx context.Context, l say.Lang, q url.Values, asked *coord.LonLat) (*mapView, error) {
	var around *coord.LonLat
	if q.Get("map") == "near" {
		around = asked
	}
	m, err := s.chart(ctx, around, smallPX)
	var known *geo.Error
	if errors.As(err, &known) && known.Kind == geo.TooFewData {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	v := &mapView{Hint: s.Catalogue.Say(l, say.Msg("screen.map-hint", say.With("distance", say.Distance(roundUp(m.PixelM())))))}
	if shown := len(m.ground.Bores); shown < m.total {
		v.Shown = s.Catalogue.Say(l, say.Msg("screen.map-shown", say.With("listed", say.Count(shown)), say.With("total", say.Count(m.total))))
	}
	v.edges(m, around)
	v.pictures(l, around, asked)
	v.Other = s.otherMap(l, q, asked, around)
	legend, err := m.Legend(s.Catalogue, l, m.ground, asked)
	if err != nil {
		return nil, err
	}
	v.Legend, err = inPage(legend)
	return v, err
}

// roundUp keeps one digit, so that the stated precision is a round number.
func roundUp(m float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(m)))
	return math.Ceil(m/unit) * unit
}

func (v *mapView) edges(m mapped, around *coord.LonLat) {
	upper, lower := m.Place(0, 0), m.Place(1, 1)
	v.West, v.North = degrees(upper.Lon), degrees(upper.Lat)
	v.East, v.South = degrees(lower.Lon), degrees(lower.Lat)
	if around != nil {
		v.Around = plain(*around)
	}
}

// pictures names the map in its two sizes; the style sheet shows the one that fits.
func (v *mapView) pictures(l say.Lang, around, asked *coord.LonLat) {
	for _, size := range []struct {
		name string
		px   int
	}{{"s", smallPX}, {"l", largePX}} {
		q := url.Values{"px": {strconv.Itoa(size.px)}, "lang": {l.String()}}
		if around != nil {
			q.Set("around", plain(*around))
		}
		if asked != nil {
			q.Set("site", plain(*asked))
		}
		v.Pictures = append(v.Pictures, pictureView{size.name, "/map.svg?" + q.Encode(), size.px})
	}
}

// otherMap links the map of the region from that around a point, and the other way; on
// the first page there is no point yet.
func (s *Server) otherMap(l say.Lang, q url.Values, asked, around *coord.LonLat) *linkView {
	if asked == nil {
		return nil
	}
	next, code := dataQuery(q), "screen.map-near"
	next.Set("lang", l.String())
	if around == nil {
		next.Set("map", "near")
	} else {
		code = "screen.map-whole"
	}
	return &linkView{Name: s.Catalogue.Say(l, say.Msg(code)), Href: "/advice?" + next.Encode()}
}
