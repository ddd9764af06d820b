package server

import (
	"bytes"
	"context"
	"net/http"
	"net/url"
	"strings"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// mostSheets is how many advices go into one document: more than anybody visits in a season
// with one crew, and no more than a person waits for.
const mostSheets = 60

// manySheets answers GET /sheets: the form for the advices of several points as one PDF.
func (s *Server) manySheets(c echo.Context) error {
	p := s.speaker(c)
	return s.showManySheets(c, p, manySheetsForm(p, c.QueryParam("points")), nil)
}

func (s *Server) showManySheets(c echo.Context, p speaker, form *formView, failed error) error {
	status, err := s.alert(c, form, failed)
	if err != nil {
		return err
	}
	v := s.frame(c, p.lang)
	v.Title = p.Say("sheets.title")
	v.Choose = &chooseView{Lang: p.lang, Heading: v.Title, Why: p.Say("sheets.lead", say.With("n", say.Count(mostSheets))), Form: form, Open: true}
	return s.show(c, status, v)
}

func manySheetsForm(p speaker, points string) *formView {
	return &formView{
		Action: "/sheets.pdf", Get: true, Button: p.Say("sheets.button"),
		Fields: []fieldView{
			{Type: "long", ID: "points", Name: "points", Label: p.Say("sheets.points"), Hint: p.Say("sheets.points.hint"), Value: points, Max: mostSheets * maxText, Rows: 10},
			{Type: "hidden", Name: "lang", Value: p.lang.String()},
		},
	}
}

// manySheetsPDF answers GET /sheets.pdf: the advices of points, one a line, by position or by
// the name of a village, a sheet of A4 each.
func (s *Server) manySheetsPDF(c echo.Context) error {
	p, points := s.speaker(c), c.QueryParam("points")
	ctx, cancel := context.WithTimeout(c.Request().Context(), answerTimeout)
	defer cancel()
	body, err := s.sheetsOf(ctx, p.lang, points)
	if err != nil && wantsPage(c) {
		return s.showManySheets(c, p, manySheetsForm(p, points), err)
	}
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, "application/pdf", body)
}

func (s *Server) sheetsOf(ctx context.Context, l say.Lang, points string) ([]byte, error) {
	doc, n := sheet.NewAdvicePDF(s.Catalogue, l), 0
	for i, line := range strings.Split(points, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if n++; n > mostSheets {
			return nil, geo.Fail(geo.Invalid, "server.sheetsOf", geo.Say("sheets.too-many", geo.With("n", geo.Count(mostSheets))), nil)
		}
		q, err := s.pointOf(ctx, line)
		if err != nil {
			return nil, lineOf(i+1, line, err)
		}
		a, err := s.Advisor.Advise(ctx, q)
		if err != nil {
			return nil, err
		}
		if err := doc.Add(line, a); err != nil {
			return nil, err
		}
	}
	if n == 0 {
		return nil, geo.Fail(geo.Invalid, "server.sheetsOf", geo.Say("sheets.none"), nil)
	}
	var out bytes.Buffer
	err := doc.Write(&out)
	return out.Bytes(), err
}

// pointOf reads a line as a position, or else as the name of a village.
func (s *Server) pointOf(ctx context.Context, line string) (advisor.Question, error) {
	if r, err := coord.ReadPair(clip(line), coord.LatLonOrder); err == nil {
		return advisor.Question{At: r.Pos, Seed: defaultSeed}, nil
	}
	v, err := s.village(ctx, clip(line))
	return advisor.Question{At: v.Position.Pos, Village: v.Name, Seed: defaultSeed}, err
}

// lineOf says on which line a point is that cannot be read.
func lineOf(n int, line string, err error) error {
	if geo.KindOf(err) == geo.Internal {
		return err
	}
	return geo.Fail(geo.Invalid, "server.sheetsOf", geo.Say("sheets.unreadable", geo.With("row", geo.Count(n)), geo.With("value", geo.Text(clip(line)))), nil)
}

// sheetsAt is the address of the sheets of points.
func sheetsAt(points []string, l say.Lang) string {
	return "/sheets?" + url.Values{"points": {strings.Join(points, "\n")}, "lang": {l.String()}}.Encode()
}

// wantsPage tells that a person asks, who is shown what is wrong on the form.
func wantsPage(c echo.Context) bool {
	return strings.Contains(c.Request().Header.Get("Accept"), "text/html")
}
