package server

import (
	"bytes"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"waterstrike/advisor"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// parseTemplates reads the templates; they say words by code.
func (s *Server) parseTemplates() (*template.Template, error) {
	say := func(l say.Lang, code string) string { return s.Catalogue.Say(l, say.Msg(code)) }
	return template.New("").Funcs(template.FuncMap{"say": say}).ParseFS(s.Templates, "*.html")
}

// show writes the page; nothing is sent when a template fails.
func (s *Server) show(c echo.Context, status int, v view) error {
	var body bytes.Buffer
	if err := s.templates.ExecuteTemplate(&body, "page.html", v); err != nil {
		return err
	}
	c.Response().Header().Set("Content-Language", v.Tag)
	return c.HTMLBlob(status, body.Bytes())
}

// frame is the page around its parts.
func (s *Server) frame(c echo.Context, l say.Lang) view {
	u := c.Request().URL
	path, p := u.Path, speaker{s.Catalogue, l}
	if _, found := s.rights[http.MethodGet+" "+c.Path()]; !found || strings.Contains(path, ".") { // a page that failed is shown again in its place, or asks anew
		path = "/"
	}
	v := view{Lang: l, Tag: l.String(), Languages: s.languages(l, path, u.Query()), Network: p.Say("screen.no-network"), Home: "/?lang=" + l.String()}
	if !loopback(hostOf(c.Request())) || strings.Contains(c.Path(), ":token") || c.Path() == phonePath { // these are for who sits elsewhere
		v.Network = p.Say("screen.no-outside")
	}
	if s.People == nil {
		v.Demo = p.Say("screen.demo-open")
	}
	s.signs(c, p, &v)
	return v
}

// signs puts the way to the pages that the visitor may see on a page: above what is used
// from day to day, below the rest.
func (s *Server) signs(c echo.Context, p speaker, v *view) {
	v.Pages = s.ways(c, p, []way{
		{"/", "screen.ask-page"},
		{"/map", "map.map"},
		{"/list", "map.list"},
		{"/bores/new", "screen.enter"},
		{intakePath, "intake.page"},
		{"/choose", "season.page"},
		{"/served", "served.screen"},
		{"/trust", "screen.track-record"},
		{"/people", "people.people"},
	})
	v.Below = s.ways(c, p, []way{
		{"/pumping", "pumping.page"},
		{"/learnt", "screen.learnt"},
		{"/shares", "share.shares"},
		{featuresRoot, "screen.open-data"},
	})
	if who := s.visitor(c); who.id != 0 {
		v.Who = &whoView{who.name, p.Say("screen.your-access"), p.Say("people.sign-out")}
	}
}

// way is the address of a page and the code of its name.
type way struct{ path, code string }

// ways are those that the visitor may go.
func (s *Server) ways(c echo.Context, p speaker, all []way) (out []pageView) {
	for _, w := range all {
		least, there := s.rights[http.MethodGet+" "+w.path]
		if there && s.visitor(c).role >= least {
			out = append(out, pageView{p.Say(w.code), w.path + "?lang=" + p.lang.String(), c.Path() == w.path})
		}
	}
	return out
}

// ask answers GET /.
func (s *Server) ask(c echo.Context) error {
	l := s.language(c)
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	if unchanged(c, s.pageTag(c, "ask", state)) {
		return notModified(c)
	}
	v := s.frame(c, l)
	v.Title = s.Catalogue.Say(l, say.Msg("screen.question"))
	if v.Ask, v.Base, err = s.askParts(c, l, nil); err != nil {
		return err
	}
	v.Ask.Heading = v.Title
	return s.show(c, http.StatusOK, v)
}

// advicePage is the answer, with the means to ask on below it.
func (s *Server) advicePage(c echo.Context, l say.Lang, a advisor.Advice) (view, error) {
	around, err := s.surroundings(c.Request().Context())
	if err != nil {
		return view{}, err
	}
	page, err := sheet.NewPage(s.Catalogue, l, a, around)
	if err != nil {
		return view{}, err
	}
	if s.Trade != nil {
		visits, err := s.Trade.Visits(c.Request().Context(), a.Question.At)
		if err != nil {
			return view{}, err
		}
		page.Visited(s.Catalogue, l, a, visits)
	}
	v := s.frame(c, l)
	v.Title = page.Verdict.Words + ", " + page.Title
	v.Answer = &answerView{Page: page, Lang: l, Data: "/advice.json?" + dataQuery(c.QueryParams()).Encode()}
	v.Answer.Hole = s.holeOf(c, c.QueryParams())
	if a.Plan != nil {
		v.Answer.More = "/building?" + dataQuery(c.QueryParams()).Encode()
	}
	if least, there := s.rights[http.MethodPost+" /sitings"]; there && s.visitor(c).role >= least {
		v.Answer.Site = "/sitings/new?" + url.Values{"at": {degrees(a.Question.At.Lat) + " " + degrees(a.Question.At.Lon)}, "place": {a.Question.Village}}.Encode()
	}
	v.Ask, v.Base, err = s.askParts(c, l, &a.Question.At)
	return v, err
}

// dataQuery keeps of a query what the answer depends on.
func dataQuery(q url.Values) url.Values {
	out := url.Values{}
	for _, name := range []string{"at", "lat", "lon", "village", "method", "seed"} {
		if q.Get(name) != "" {
			out.Set(name, q.Get(name))
		}
	}
	return out
}

// problemPage tells what is wrong, with the means to ask again.
func (s *Server) problemPage(c echo.Context, l say.Lang, f failure) error {
	v := s.frame(c, l)
	heading := s.Catalogue.Say(l, say.Msg(f.heading()))
	v.Title = heading
	v.Problem = &problemView{
		Heading: heading, Words: s.Catalogue.Say(l, sheet.Message(f.message)),
		ChoicesHeading: s.Catalogue.Say(l, say.Msg("screen.did-you-mean")), Choices: s.choices(l, f),
	}
	mayAsk := s.visitor(c).role >= s.rights[http.MethodGet+" /"]
	if f.status == http.StatusUnauthorized || f.message.Code == "problem.page-not-found" && !mayAsk {
		v.Problem.Next = &linkView{Name: s.Catalogue.Say(l, say.Msg("people.sign-in")), Href: signInPath}
	}
	if mayAsk && f.asks() && f.status < http.StatusInternalServerError {
		var err error
		if v.Ask, v.Base, err = s.askParts(c, l, nil); err != nil {
			s.Log.Error("failed while telling a failure", "error", err)
		}
	}
	return s.show(c, f.status, v)
}

// choices links the villages that may have been meant.
func (s *Server) choices(l say.Lang, f failure) []linkView {
	var out []linkView
	for _, v := range f.choices {
		q := url.Values{"village": {string(v.ID)}, "lang": {l.String()}}
		aside := s.Catalogue.Say(l, say.Msg("value.place", say.With("place", say.Position(v.Position.Pos.Lat, v.Position.Pos.Lon))))
		if n, ok := v.People.Get(); ok {
			aside += "; " + s.Catalogue.Say(l, say.Msg("screen.people", say.With("n", say.Count(n))))
		}
		out = append(out, linkView{v.Name, "/advice?" + q.Encode(), aside})
	}
	return out
}
