package server

import (
	"context"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// blurM is the side of the squares in which rough positions lie: a few villages wide.
const blurM = 5000

// sharedView is what an outsider sees: coverage, and nothing else.
type sharedView struct {
	Heading  string
	Served   *sheet.Table // nil where nobody was counted
	Outcomes sheet.Table
	Map      *sharedMapView
	Notes    []string
	GIS      linkView // where programs read the same
}

type sharedMapView struct {
	Heading, Alt string
	Small, Large string // addresses of the picture for narrow and wide screens
	Notes        []string
	Legend       template.HTML
}

// shared answers GET /shared/:token.
func (s *Server) shared(c echo.Context) error {
	ctx := c.Request().Context()
	share, err := s.People.ShareOf(ctx, c.Param("token"))
	if err != nil {
		return err
	}
	counts, err := s.Ground.Outcomes(ctx)
	if err != nil {
		return err
	}
	p, v := s.speaker(c), s.frame(c, s.language(c))
	v.Title, v.Pages, v.Below, v.Who = p.Say("shared.title"), nil, nil, nil // whoever looks sees what outsiders see
	v.Shared = &sharedView{Heading: v.Title, Outcomes: p.outcomes(counts)}
	zone := s.Now().Location()
	v.Shared.Notes = []string{
		p.Say("shared.caution"),
		p.Say("shared.as-of", say.With("date", say.Date(s.Now()))),
		p.Say("shared.until", say.With("date", say.Date(share.Expires.In(zone)))),
	}
	if v.Shared.Served, err = s.sharedServed(ctx, p); err != nil {
		return err
	}
	root := s.address(c, sharedFeatures(c.Param("token")))
	v.Shared.GIS = linkView{Name: p.Say("shared.gis"), Href: root}
	if v.Shared.Map, err = s.sharedMap(ctx, p, share, c.Param("token")); err != nil {
		return err
	}
	return s.show(c, http.StatusOK, v)
}

// outcomes counts the bores by outcome; those that did not happen are left out.
func (s speaker) outcomes(counts map[geo.Outcome]int) sheet.Table {
	t := sheet.Table{Heading: s.Say("shared.outcomes"), Columns: []string{s.Say("shared.outcome"), s.Say("shared.bores"), s.Say("shared.part")}}
	total := 0
	for _, n := range counts {
		total += n
	}
	for _, outcome := range geo.Outcomes() {
		n := counts[outcome]
		if n == 0 {
			continue
		}
		t.Rows = append(t.Rows, []sheet.Cell{
			{Label: t.Columns[0], Words: s.Say("outcome." + string(outcome))},
			{Label: t.Columns[1], Words: s.Say("value.count", say.With("n", say.Count(n)))},
			{Label: t.Columns[2], Words: s.part(float64(n) / float64(total))},
		})
	}
	t.Notes = []string{s.Say("screen.bores-known", say.With("n", say.Count(total)))}
	return t
}

// part says a part of a whole; one that is not nothing is not told as 0 %.
func (s speaker) part(of float64) string {
	if of < 0.005 {
		return s.Say("value.chance", say.With("chance", say.Chance(of)))
	}
	return s.Say("value.share", say.With("share", say.Share(of)))
}

// sharedChart is the map of the whole region, with positions as exact as the link allows.
func (s *Server) sharedChart(ctx context.Context, share account.Share, px int) (m mapped, err error) {
	if m.ground, err = s.surroundings(ctx); err != nil {
		return m, err
	}
	if m.ground.Bores, m.total, err = s.Ground.Bores(ctx, world, maxBores); err != nil {
		return m, err
	}
	if share.Blurred {
		m.ground.Bores = sheet.Blur(m.ground.Bores, blurM)
	}
	m.Chart, err = sheet.Whole(m.ground, px)
	return m, err
}

// sharedMap prepares the map; nil where there is nothing to show on one.
func (s *Server) sharedMap(ctx context.Context, p speaker, share account.Share, token string) (*sharedMapView, error) {
	m, err := s.sharedChart(ctx, share, smallPX)
	if geo.KindOf(err) == geo.TooFewData {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	at := func(px int) string {
		q := url.Values{"px": {strconv.Itoa(px)}, "lang": {p.lang.String()}}
		return "/shared/" + url.PathEscape(token) + "/map.svg?" + q.Encode()
	}
	v := &sharedMapView{Heading: p.Say("shared.map"), Alt: p.Say("screen.map-alt"), Small: at(smallPX), Large: at(largePX)}
	if share.Blurred {
		v.Notes = append(v.Notes, p.Say("shared.rough", say.With("distance", say.Distance(blurM))))
	}
	if shown := len(m.ground.Bores); shown < m.total {
		v.Notes = append(v.Notes, p.Say("screen.map-shown", say.With("listed", say.Count(shown)), say.With("total", say.Count(m.total))))
	}
	legend, err := m.Legend(s.Catalogue, p.lang, m.ground, nil)
	if err != nil {
		return nil, err
	}
	v.Legend, err = inPage(legend)
	return v, err
}

// sharedPicture answers GET /shared/:token/map.svg.
func (s *Server) sharedPicture(c echo.Context) error {
	ctx := c.Request().Context()
	share, err := s.People.ShareOf(ctx, c.Param("token"))
	if err != nil {
		return err
	}
	px, err := pictureSize(c.QueryParams())
	if err != nil {
		return err
	}
	state, err := s.Ground.State(ctx)
	if err != nil {
		return err
	}
	l := s.language(c)
	if unchanged(c, tag("shared", state, s.Version, l.String(), strconv.Itoa(px), strconv.FormatInt(share.ID, 10), share.Expires.Format(time.RFC3339))) {
		return notModified(c)
	}
	m, err := s.sharedChart(ctx, share, px)
	if err != nil {
		return err
	}
	scene, err := m.Draw(s.Catalogue, l, m.ground, nil)
	if err != nil {
		return err
	}
	return sendScene(c, scene)
}
