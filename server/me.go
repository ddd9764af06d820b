package server

import (
	"net/http"

	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// meView is a person's own access.
type meView struct {
	Heading, Words, Done string
	Password             formView
}

// mePage answers GET /me.
func (s *Server) mePage(c echo.Context) error { return s.showMe(c, nil) }

func (s *Server) showMe(c echo.Context, failed error) error {
	p, v := s.speaker(c), s.visitor(c)
	f := formView{
		Heading: p.Say("people.me.password"), Intro: p.Say("people.me.note"), Action: "/me", Button: p.Say("people.change-password"),
		Fields: []fieldView{userField(v.name), p.passwordField("password", p.Say("people.present-password"), "current-password"), p.newPasswordField()},
	}
	status, err := s.alert(c, &f, failed)
	if err != nil {
		return err
	}
	page, role := s.ownFrame(c), "role."+v.role.String()
	page.Title = p.Say("people.me")
	page.Me = &meView{Heading: page.Title, Password: f, Words: p.Say("people.me.role",
		say.With("value", say.Text(v.name)), say.With("now", say.Of(role)), say.With("second", say.Of(role+".meaning")))}
	if c.QueryParams().Has("changed") {
		page.Me.Done = p.Say("people.me.changed")
	}
	return s.show(c, status, page)
}

// changePassword answers POST /me.
func (s *Server) changePassword(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	p, err := s.People.ChangePassword(c.Request().Context(), s.visitor(c).id, sent.Get("password"), sent.Get("new-password"), place(c.Request()))
	if err != nil {
		return s.showMe(c, err)
	}
	if err := s.enter(c, p); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/me?changed")
}
