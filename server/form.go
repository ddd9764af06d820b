package server

import (
	"net/http"
	"strconv"

	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// speaker says messages in one language.
type speaker struct {
	catalogue *say.Catalogue
	lang      say.Lang
}

// Say says a code of the catalogue.
func (s speaker) Say(code string, args ...say.Arg) string {
	return s.catalogue.Say(s.lang, say.Msg(code, args...))
}

func (s speaker) tell(m geo.Message) string { return s.catalogue.Say(s.lang, sheet.Message(m)) }

func (s *Server) speaker(c echo.Context) speaker { return speaker{s.Catalogue, s.language(c)} }

// formView is a form with what is said around it.
type formView struct {
	Heading, Intro string
	Alert          string // what is wrong with what was sent
	Done           string // what was done
	Action, Button string
	Get            bool // asks, and changes nothing
	Fields         []fieldView
	Notes          []string
	Links          []linkView
}

// fieldView is one field. Type is that of an input, "long" for several lines, "select" or
// "choice" where one of several is chosen, "part" for a heading over the fields below, or "username" for a name that only the browser reads.
type fieldView struct {
	ID, Name, Label, Hint string
	Type, Value, Complete string // Complete tells the browser what it may fill in
	Capitals              string // what a phone's keyboard does
	Max                   int
	Rows                  int // of several lines, 3 where not said
	Optional, Checked     bool
	Focus                 bool
	Mode                  string // which keys a phone shows, such as "decimal"
	Show, Hide            string // words of the button that shows a password
	Here                  string // words of the button that takes the device's own position
	Choices               []choiceView
}

type choiceView struct {
	Value, Name, Aside string
	Chosen             bool
}

// The fields that several forms have.

func (s speaker) nameField(value string) fieldView {
	return fieldView{
		ID: "name", Name: "name", Label: s.Say("people.name"), Type: "text", Value: value,
		Complete: "username", Capitals: "words", Max: maxText,
	}
}

func (s speaker) passwordField(name, label, complete string) fieldView {
	return fieldView{
		ID: name, Name: name, Label: label, Type: "password", Complete: complete, Capitals: "off", Max: 2 * maxText,
		Show: s.Say("people.show"), Hide: s.Say("people.hide"),
	}
}

// userField tells the browser whose password it keeps; nobody sees it.
func userField(name string) fieldView {
	return fieldView{Type: "username", Name: "username", Value: name}
}

func (s speaker) newPasswordField() fieldView {
	f := s.passwordField("new-password", s.Say("people.new-password"), "new-password")
	f.Hint = s.Say("people.new-password.hint", say.With("n", say.Count(shortestPassword)))
	return f
}

func (s speaker) codeField(value string) fieldView {
	return fieldView{
		ID: "code", Name: "code", Label: s.Say("people.code"), Hint: s.Say("people.code.hint"), Type: "text", Value: value,
		Complete: "one-time-code", Capitals: "characters", Max: maxText, Focus: true,
	}
}

// alert says on a form what was wrong about what was sent, and returns the status that
// goes with it. A failure that the sender cannot mend comes back as it is.
func (s *Server) alert(c echo.Context, f *formView, failed error) (status int, err error) {
	if failed == nil {
		return http.StatusOK, nil
	}
	told := failureOf(failed)
	if told.status >= http.StatusInternalServerError {
		return 0, failed
	}
	told.setHeaders(c)
	f.Alert = s.speaker(c).tell(told.message)
	return told.status, nil
}

// showDoor shows a page that is one form: the ways to come in.
func (s *Server) showDoor(c echo.Context, f formView, failed error) error {
	status, err := s.alert(c, &f, failed)
	if err != nil {
		return err
	}
	v := s.ownFrame(c)
	v.Title, v.Door = f.Heading, &f
	return s.show(c, status, v)
}

// ownFrame is the frame of a page about people, which nobody keeps a copy of.
func (s *Server) ownFrame(c echo.Context) view {
	c.Response().Header().Set("Cache-Control", "no-store")
	return s.frame(c, s.language(c))
}

// number reads the number of a person or link in an address.
func number(c echo.Context, name string) (int64, error) {
	n, err := strconv.ParseInt(c.Param(name), 10, 64)
	if err != nil || n < 1 {
		return 0, echo.ErrNotFound
	}
	return n, nil
}
