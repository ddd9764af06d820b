package server

import (
	"context"
	"encoding/json"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/server/features"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// featuresRoot is where the records are served by the standard of features.
const featuresRoot = "/features"

// asPage tells whether a person asks, by f or else by what is accepted; a form that there
// is not is an error.
func asPage(c echo.Context) (bool, error) {
	switch f := c.QueryParam("f"); f {
	case "":
		return strings.Contains(c.Request().Header.Get("Accept"), "text/html"), nil
	case "json":
		return false, nil
	case "html":
		return true, nil
	default:
		return false, badParameter("f", f)
	}
}

// api writes documents with the addresses of this server and in the asker's language:
// everything to who has signed in, what outsiders see to who comes by a link.
func (s *Server) api(c echo.Context) (*features.API, error) {
	p := s.speaker(c)
	scheme := "http"
	if s.Authority != nil {
		scheme = "https"
	}
	a := &features.API{
		Source: s.Features, Root: scheme + "://" + c.Request().Host + featuresRoot,
		Say: func(code geo.Code) string { return p.Say(string(code)) },
	}
	token := c.Param("token")
	if token == "" {
		return a, nil
	}
	share, err := s.People.ShareOf(c.Request().Context(), token)
	if err != nil {
		return nil, err
	}
	a.Root = scheme + "://" + c.Request().Host + sharedFeatures(token)
	a.Source = features.Part{Whole: s.Features, Told: map[string][]string{"bores": {"outcome", "completed"}}}
	if share.Blurred {
		a.Squares = sheet.Squares(blurM)
	}
	return a, nil
}

// sharedFeatures is where a link for outsiders has its features.
func sharedFeatures(token string) string { return "/shared/" + url.PathEscape(token) + featuresRoot }

// document answers with a document, or with a page of its links.
func (s *Server) document(c echo.Context, title, kind string, doc any, links func() []features.Link) error {
	page, err := asPage(c)
	if err != nil {
		return err
	}
	c.Response().Header().Add("Vary", "Accept")
	if page {
		return s.featuresPage(c, sheet.Features{Title: title, Links: pageLinks(links())})
	}
	body, err := json.MarshalIndent(doc, "", "  ")
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, kind, append(body, '\n'))
}

// featuresPage shows features and links as a page.
func (s *Server) featuresPage(c echo.Context, f sheet.Features) error {
	l := s.language(c)
	v := s.frame(c, l)
	if c.Param("token") != "" {
		v.Pages, v.Below, v.Who = nil, nil, nil // whoever looks sees what outsiders see
	}
	v.Title = f.Title
	q := c.QueryParams()
	q.Set("f", "json")
	v.Account = &accountView{Account: sheet.NewFeatures(s.Catalogue, l, f), Lang: l, Data: c.Request().URL.Path + "?" + q.Encode()}
	return s.show(c, http.StatusOK, v)
}

// pageLinks are links for people: those that lead to pages, by the path alone.
func pageLinks(links []features.Link) (out []sheet.FeatureLink) {
	for _, l := range links {
		u, err := url.Parse(l.Href)
		if err != nil || l.Title == "" {
			continue
		}
		q := u.Query()
		q.Set("f", "html")
		if strings.HasPrefix(l.Type, "application/vnd.oai") {
			q.Set("f", "json")
		}
		next := sheet.FeatureLink{Words: l.Title, Href: u.Path + "?" + q.Encode()}
		if i := slices.IndexFunc(out, func(x sheet.FeatureLink) bool { return x.Words == next.Words }); i >= 0 {
			out[i] = next // the same for programs comes before that for people
			continue
		}
		out = append(out, next)
	}
	return out
}

// featuresLanding answers GET /features.
func (s *Server) featuresLanding(c echo.Context) error {
	a, err := s.api(c)
	if err != nil {
		return err
	}
	doc, p, how := a.Landing(), s.speaker(c), "features.how.gis"
	if c.Param("token") != "" {
		how = "features.how.gis-link" // outsiders get bores alone
	}
	page, err := asPage(c)
	if err == nil && page {
		c.Response().Header().Add("Vary", "Accept")
		return s.featuresPage(c, sheet.Features{Title: doc.Title, Links: pageLinks(doc.Links), How: []string{
			p.Say(how, say.With("value", say.Text(a.Root))), p.Say("features.how.table"), p.Say("features.how.blurred"),
		}})
	}
	return s.document(c, doc.Title, features.JSON, doc, func() []features.Link { return doc.Links })
}

// featuresAPI answers GET /features/api.
func (s *Server) featuresAPI(c echo.Context) error {
	a, err := s.api(c)
	if err != nil {
		return err
	}
	return s.document(c, a.Say("features.api"), features.OpenAPI, a.OpenAPI(s.Version), func() []features.Link { return a.Landing().Links })
}

// featuresConformance answers GET /features/conformance.
func (s *Server) featuresConformance(c echo.Context) error {
	a, err := s.api(c)
	if err != nil {
		return err
	}
	doc := a.Conformance()
	return s.document(c, a.Say("features.conformance"), features.JSON, doc, func() (out []features.Link) {
		for _, class := range doc.ConformsTo {
			out = append(out, features.Link{Href: a.Root, Title: class})
		}
		return out
	})
}

// featuresCollections answers GET /features/collections.
func (s *Server) featuresCollections(c echo.Context) error {
	a, err := s.api(c)
	if err != nil {
		return err
	}
	doc, err := a.Collections(c.Request().Context())
	if err != nil {
		return err
	}
	return s.document(c, a.Say("features.collections"), features.JSON, doc, func() (out []features.Link) {
		for _, d := range doc.Collections {
			out = append(out, features.Link{Href: a.Root + "/collections/" + d.ID + "/items", Title: d.Title})
		}
		return out
	})
}

// featuresCollection answers GET /features/collections/:collection.
func (s *Server) featuresCollection(c echo.Context) error {
	a, err := s.api(c)
	if err != nil {
		return err
	}
	doc, err := a.Collection(c.Request().Context(), c.Param("collection"))
	if err != nil {
		return err
	}
	return s.document(c, doc.Title, features.JSON, doc, func() []features.Link { return doc.Links })
}

// featuresItems answers GET /features/collections/:collection/items. All of these answer
// below a link for outsiders too.
func (s *Server) featuresItems(c echo.Context) error {
	return s.items(c, false, func(ctx context.Context, a *features.API) (*features.Page, error) {
		return a.Items(ctx, c.Param("collection"), c.QueryParams(), s.Now())
	})
}

// featuresItem answers GET /features/collections/:collection/items/:feature.
func (s *Server) featuresItem(c echo.Context) error {
	return s.items(c, true, func(ctx context.Context, a *features.API) (*features.Page, error) {
		return a.Item(ctx, c.Param("collection"), c.Param("feature"))
	})
}

func (s *Server) items(c echo.Context, one bool, read func(context.Context, *features.API) (*features.Page, error)) error {
	asked, err := asPage(c)
	if err != nil {
		return err
	}
	a, err := s.api(c)
	if err != nil {
		return err
	}
	page, err := read(c.Request().Context(), a)
	if err != nil {
		return err
	}
	c.Response().Header().Add("Vary", "Accept")
	if asked {
		return s.featuresPage(c, shownFeatures(a, page))
	}
	body, err := page.AppendGeoJSON(nil, one)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Crs", "<"+features.CRS84+">")
	return c.Blob(http.StatusOK, features.GeoJSON, body)
}

// shownFeatures are features as a table.
func shownFeatures(a *features.API, p *features.Page) sheet.Features {
	out := sheet.Features{Title: p.Title, Total: max(p.Matched, len(p.Features)), Links: pageLinks(p.Links)}
	for _, x := range p.Collection.Properties {
		out.Columns = append(out.Columns, x.Name)
	}
	at := "/collections/" + p.Collection.Name + "/items/"
	if root, err := url.Parse(a.Root); err == nil {
		at = root.EscapedPath() + at
	}
	for i := range p.Features {
		f := &p.Features[i]
		middle := f.Place.Center()
		row := sheet.FeatureRow{ID: f.ID, Href: at + url.PathEscape(f.ID) + "?f=html", Place: say.Position(middle[1], middle[0])}
		for _, v := range f.Values {
			row.Cells = append(row.Cells, shownValue(v))
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// shownValue writes a value for people: three decimals say all that a record knows.
func shownValue(v any) string {
	if x, ok := v.(float64); ok {
		v = math.Round(1000*x) / 1000
	}
	return features.Written(v)
}
