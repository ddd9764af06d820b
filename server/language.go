package server

import (
	"net/http"

	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

const langCookie = "lang"

// language chooses the language of an answer: as asked, as asked before, as the browser
// prefers, English. A question for a language is kept in a cookie.
func (s *Server) language(c echo.Context) say.Lang {
	if l, ok := c.Get(langCookie).(say.Lang); ok {
		return l
	}
	l := s.chosen(c)
	c.Set(langCookie, l)
	return l
}

func (s *Server) chosen(c echo.Context) say.Lang {
	c.Response().Header().Set("Vary", "Accept, Accept-Language, Cookie")
	if l, err := say.ParseLang(c.QueryParam("lang")); err == nil {
		c.SetCookie(&http.Cookie{
			Name: langCookie, Value: l.String(), Path: "/", MaxAge: 365 * 24 * 3600,
			HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: s.Authority != nil,
		})
		return l
	}
	if cookie, err := c.Cookie(langCookie); err == nil {
		if l, err := say.ParseLang(cookie.Value); err == nil {
			return l
		}
	}
	return say.Negotiate(c.Request().Header.Get("Accept-Language"), say.EN)
}
