package server

import (
	"bytes"
	"net/http"
	"net/url"

	"waterstrike/advisor/season"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// accountAsk reads a question about what was achieved. What was foretold is put beside what
// was found where the track record of these records was taken.
func (s *Server) accountAsk(q url.Values) (ask season.AccountAsk, err error) {
	list, err := s.Seasons.Standards()
	if err != nil {
		return ask, err
	}
	if ask.Standard, err = season.Standard(list, q.Get("standard")); err != nil {
		return ask, err
	}
	ask.On, err = s.dayOf(q)
	ask.Tested = q.Get("tested") != ""
	ask.Foretold = s.reckoning.said()
	return ask, err
}

// account takes the account that is asked for.
func (s *Server) account(c echo.Context) (*season.Account, error) {
	ask, err := s.accountAsk(c.QueryParams())
	if err != nil {
		return nil, err
	}
	return s.Seasons.Account(c.Request().Context(), ask)
}

// served answers GET /served: what was achieved.
func (s *Server) served(c echo.Context) error {
	p, q := s.speaker(c), servedQuery(c.QueryParams())
	a, err := s.account(c)
	if err != nil {
		return s.servedAgain(c, p, err)
	}
	page, err := sheet.NewServedPage(s.Catalogue, p.lang, a)
	if err != nil {
		return err
	}
	form, err := s.servedForm(p, c.QueryParams(), "")
	if err != nil {
		return err
	}
	v := s.frame(c, p.lang)
	v.Title = p.Say("served.screen")
	v.Account = &accountView{Account: page, Lang: p.lang, Data: "/served.json?" + q.Encode()}
	spoken := q.Encode() + "&lang=" + p.lang.String()
	v.Account.More = []linkView{{Name: p.Say("served.as-pdf"), Href: "/served.pdf?" + spoken}, {Name: p.Say("served.as-file"), Href: "/served.html?" + spoken}}
	v.Choose = &chooseView{Lang: p.lang, Heading: p.Say("served.ask"), Form: form}
	return s.show(c, http.StatusOK, v)
}

// servedQuery keeps of a query what the account depends on.
func servedQuery(q url.Values) url.Values {
	out := url.Values{}
	for _, name := range []string{"standard", "on", "tested"} {
		if q.Get(name) != "" {
			out.Set(name, q.Get(name))
		}
	}
	return out
}

// servedAgain tells what is wrong with the question above the form that it came from.
func (s *Server) servedAgain(c echo.Context, p speaker, cause error) error {
	f := failureOf(cause)
	if f.status >= http.StatusInternalServerError || wantsJSON(c.Request()) {
		return cause
	}
	form, err := s.servedForm(p, c.QueryParams(), p.tell(f.message))
	v := s.frame(c, p.lang)
	v.Title = p.Say("served.screen")
	v.Choose = &chooseView{Lang: p.lang, Heading: v.Title, Form: form, Open: true}
	return errorOr(err, func() error { return s.show(c, f.status, v) })
}

func (s *Server) servedForm(p speaker, q url.Values, alert string) (*formView, error) {
	standards, err := s.standardField(p, q)
	return &formView{
		Action: "/served", Get: true, Alert: alert, Button: p.Say("served.ask.button"),
		Fields: []fieldView{
			{Type: "text", ID: "on", Name: "on", Label: p.Say("served.field.on"), Hint: p.Say("served.field.on.hint"), Value: q.Get("on"), Max: maxText, Optional: true, Complete: "off"},
			standards,
			{Type: "checkbox", ID: "tested", Name: "tested", Label: p.Say("season.field.tested"), Value: "1", Checked: q.Get("tested") != ""},
		},
	}, err
}

// servedAs answers with the account in another form.
func (s *Server) servedAs(kind string, write func(*bytes.Buffer, say.Lang, *season.Account) error) echo.HandlerFunc {
	return func(c echo.Context) error {
		a, err := s.account(c)
		if err != nil {
			return err
		}
		var out bytes.Buffer
		if err := write(&out, s.language(c), a); err != nil {
			return err
		}
		return c.Blob(http.StatusOK, kind, out.Bytes())
	}
}

// servedJSON, servedPDF and servedFile write the account for a program, for paper, and as
// one page to keep.
func (s *Server) servedJSON(out *bytes.Buffer, _ say.Lang, a *season.Account) error {
	data, err := sheet.ServedJSON(a)
	out.Write(data)
	return err
}

func (s *Server) servedPDF(out *bytes.Buffer, l say.Lang, a *season.Account) error {
	return sheet.ServedPDF(out, s.Catalogue, l, a)
}

// keepServed has the page of its own kept rather than shown: its styles stand within it,
// which no page that is shown from here may have.
func (s *Server) keepServed(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Response().Header().Set(echo.HeaderContentDisposition, `attachment; filename="served.html"`)
		return next(c)
	}
}

func (s *Server) servedFile(out *bytes.Buffer, l say.Lang, a *season.Account) error {
	return sheet.ServedFile(out, s.Catalogue, l, a)
}
