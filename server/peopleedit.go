package server

import (
	"context"
	"net/http"

	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// codeView is a one-time code as it is handed over. It is shown this once.
type codeView struct {
	Heading, Code string
	Lines         []string
	Back          linkView
}

// invite answers POST /people.
func (s *Server) invite(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	role, _ := account.ParseRole(sent.Get("role")) // no role is refused with the name
	p, code, err := s.People.Invite(c.Request().Context(), s.by(c), sent.Get("name"), role)
	if err != nil {
		return s.showPeople(c, sent, err)
	}
	return s.showCode(c, p, code)
}

// newCode answers POST /people/:person/code.
func (s *Server) newCode(c echo.Context) error {
	id, err := number(c, "person")
	if err != nil {
		return err
	}
	p, code, err := s.People.NewCode(c.Request().Context(), s.by(c), id)
	if err != nil {
		return err
	}
	return s.showCode(c, p, code)
}

func (s *Server) showCode(c echo.Context, person account.Person, code string) error {
	p, v := s.speaker(c), s.ownFrame(c)
	v.Title = p.Say("people.code-for", say.With("value", say.Text(person.Name)))
	until, _ := person.CodeUntil.Get()
	v.Code = &codeView{
		Heading: v.Title, Code: code, Back: linkView{Name: p.Say("people.back"), Href: "/people"},
		Lines: []string{
			p.Say("people.code-how", say.With("path", say.Text(s.address(c, "/")))),
			p.Say("people.code-until", say.With("date", say.Date(until.In(s.Now().Location())))),
			p.Say("people.code-once"),
		},
	}
	v.Code.Lines = append(v.Code.Lines, p.onlyHere(c)...)
	v.Languages = s.languages(v.Lang, "/people", nil) // the code would be gone
	return s.show(c, http.StatusOK, v)
}

// onlyHere warns of an address that no other device reaches.
func (s speaker) onlyHere(c echo.Context) []string {
	if loopback(hostOf(c.Request())) {
		return []string{s.Say("people.only-here")}
	}
	return nil
}

// address is a path of this program as others reach it.
func (s *Server) address(c echo.Context, path string) string {
	scheme := "http://"
	if s.Authority != nil {
		scheme = "https://"
	}
	return scheme + c.Request().Host + path
}

func (s *Server) by(c echo.Context) account.By { return geo.Some(s.visitor(c).id) }

// setRole answers POST /people/:person/role.
func (s *Server) setRole(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	role, _ := account.ParseRole(sent.Get("role")) // no role is refused
	return s.edit(c, func(ctx context.Context, by account.By, id int64) error {
		return s.People.SetRole(ctx, by, id, role)
	})
}

// shutOut answers POST /people/:person/shut.
func (s *Server) shutOut(c echo.Context) error { return s.edit(c, s.People.Shut) }

// readmit answers POST /people/:person/readmit.
func (s *Server) readmit(c echo.Context) error { return s.edit(c, s.People.Readmit) }

// edit changes a person's rights and goes back to the people.
func (s *Server) edit(c echo.Context, change func(ctx context.Context, by account.By, id int64) error) error {
	id, err := number(c, "person")
	if err != nil {
		return err
	}
	if err := change(c.Request().Context(), s.by(c), id); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/people")
}
