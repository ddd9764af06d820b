package server

import (
	"net/http"
	"net/url"

	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

const joinPath = "/join"

// beginPage answers GET /begin, as long as nobody could let others in.
func (s *Server) beginPage(c echo.Context) error {
	none, err := s.People.NeedsKeeper(c.Request().Context())
	if err != nil {
		return err
	}
	if !none {
		s.language(c) // kept for the page that follows
		return c.Redirect(http.StatusSeeOther, signInPath)
	}
	return s.showBegin(c, url.Values{}, nil)
}

func (s *Server) showBegin(c echo.Context, sent url.Values, failed error) error {
	p := s.speaker(c)
	name := p.nameField(clip(sent.Get("name")))
	name.Hint = p.Say("people.name.hint")
	return s.showDoor(c, formView{
		Heading: p.Say("people.begin"), Intro: p.Say("people.begin.why"), Action: "/begin", Button: p.Say("people.begin.do"),
		Fields: []fieldView{p.codeField(clip(sent.Get("code"))), name, p.newPasswordField()},
	}, failed)
}

// begin answers POST /begin: the first keeper.
func (s *Server) begin(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	p, err := s.People.Begin(c.Request().Context(), sent.Get("code"), sent.Get("name"), sent.Get("new-password"), place(c.Request()))
	if geo.KindOf(err) == geo.Conflict {
		return err
	}
	return s.came(c, p, err, "/people", func() error { return s.showBegin(c, sent, err) })
}

// joinPage answers GET /join.
func (s *Server) joinPage(c echo.Context) error { return s.showJoin(c, "", nil) }

func (s *Server) showJoin(c echo.Context, code string, failed error) error {
	p := s.speaker(c)
	return s.showDoor(c, formView{
		Heading: p.Say("people.join"), Intro: p.Say("people.join.why"), Action: joinPath, Button: p.Say("people.join.next"),
		Fields: []fieldView{p.codeField(code)},
		Links:  []linkView{{Name: p.Say("people.sign-in"), Href: signInPath}},
	}, failed)
}

// showJoinAs is the second step: the password of the person that the code was made for.
func (s *Server) showJoinAs(c echo.Context, person account.Person, code string, failed error) error {
	p := s.speaker(c)
	f := formView{
		Heading: p.Say("people.join.as", say.With("value", say.Text(person.Name))), Intro: p.Say("people.join.name"),
		Action: joinPath, Button: p.Say("people.join.do"),
		Fields: []fieldView{{Type: "hidden", Name: "code", Value: code}, userField(person.Name), p.newPasswordField()},
	}
	f.Fields[2].Focus = true
	return s.showDoor(c, f, failed)
}

// join answers POST /join: an invitation or a new password, by a one-time code. Without a
// password it asks for one.
func (s *Server) join(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	ctx, code, from := c.Request().Context(), sent.Get("code"), place(c.Request())
	person, err := s.People.Bearer(ctx, code, from)
	if err != nil {
		return s.showJoin(c, clip(code), err)
	}
	if !sent.Has("new-password") {
		return s.showJoinAs(c, person, code, nil)
	}
	p, err := s.People.Redeem(ctx, code, sent.Get("new-password"), from)
	return s.came(c, p, err, "/", func() error { return s.showJoinAs(c, person, code, err) })
}

// came lets a person in who bore a code, or shows the form again.
func (s *Server) came(c echo.Context, p account.Person, err error, to string, again func() error) error {
	if err != nil {
		return again()
	}
	if err := s.enter(c, p); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, to)
}
