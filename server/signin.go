package server

import (
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"
)

const (
	signInPath       = "/sign-in"
	shortestPassword = 12 // as server/account has it; a test compares
)

// signInFor is the address to sign in at, and to go on from to where one wanted to.
func signInFor(to *url.URL) string {
	if to.Path == "/" && to.RawQuery == "" {
		return signInPath
	}
	q := url.Values{"next": {to.RequestURI()}}
	if l := to.Query().Get("lang"); l != "" { // whoever asked in a language is asked back in it
		q.Set("lang", l)
	}
	return signInPath + "?" + q.Encode()
}

// onward is where to go after signing in: to an address of this program, whatever was sent.
func onward(next string) string {
	to, err := url.Parse(next)
	local := err == nil && strings.HasPrefix(next, "/") && !strings.HasPrefix(next, "//") &&
		to.Scheme == "" && to.Host == "" && !strings.ContainsAny(next, "\\\r\n\t")
	if !local || to.Path == signInPath {
		return "/"
	}
	return next
}

// forPeople tells whether a person reads the answer in a browser's window.
func forPeople(r *http.Request) bool {
	reads := r.Method == http.MethodGet || r.Method == http.MethodHead
	return reads && !wantsJSON(r) && strings.Contains(r.Header.Get("Accept"), "text/html")
}

// signInPage answers GET /sign-in.
func (s *Server) signInPage(c echo.Context) error {
	if s.visitor(c).id != 0 {
		return c.Redirect(http.StatusSeeOther, onward(c.QueryParam("next")))
	}
	none, err := s.People.NeedsKeeper(c.Request().Context())
	if err != nil {
		return err
	}
	if none {
		s.language(c) // kept for the page that follows
		return c.Redirect(http.StatusSeeOther, "/begin")
	}
	return s.showSignIn(c, "", nil)
}

func (s *Server) showSignIn(c echo.Context, name string, failed error) error {
	p := s.speaker(c)
	f := formView{
		Heading: p.Say("people.sign-in"), Action: signInPath, Button: p.Say("people.sign-in"),
		Fields: []fieldView{p.nameField(name), p.passwordField("password", p.Say("people.password"), "current-password")},
		Links:  []linkView{{Name: p.Say("people.have-code"), Href: joinPath}},
		Notes:  []string{p.Say("people.forgotten")},
	}
	f.Fields[0].Focus = true
	if next := onward(c.QueryParam("next")); next != "/" {
		f.Action += "?" + url.Values{"next": {next}}.Encode()
	}
	if c.QueryParams().Has("out") {
		f.Done = p.Say("people.signed-out")
	}
	return s.showDoor(c, f, failed)
}

// signIn answers POST /sign-in.
func (s *Server) signIn(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	p, err := s.People.SignIn(c.Request().Context(), sent.Get("name"), sent.Get("password"), place(c.Request()))
	if err != nil {
		return s.showSignIn(c, clip(sent.Get("name")), err)
	}
	if err := s.enter(c, p); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, onward(c.QueryParam("next")))
}

// signOut answers POST /sign-out. The browser is asked to forget the pages it has seen.
func (s *Server) signOut(c echo.Context) error {
	if err := s.sessions.Destroy(c.Request().Context()); err != nil {
		return err
	}
	c.Response().Header().Set("Clear-Site-Data", `"cache"`)
	return c.Redirect(http.StatusSeeOther, signInPath+"?out")
}
