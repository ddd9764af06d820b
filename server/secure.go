package server

import (
	"errors"
	"mime"
	"net/http"
	"net/url"

	"waterstrike/geo"

	"github.com/labstack/echo/v4"
)

// crossSiteError is a request that a page of another site made.
type crossSiteError struct{}

func (e *crossSiteError) Error() string { return "server: request from another site" }

// ownSite refuses what a page of another site makes a browser send, unless it only reads.
func (s *Server) ownSite() echo.MiddlewareFunc {
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.fail(&crossSiteError{}, s.echo.NewContext(r, w))
	}))
	return echo.WrapMiddleware(protection.Handler)
}

const maxForm = 16 << 10 // bytes; the longest form of a page needs a tenth of it

// form reads the fields of a form that was sent; those in the address do not count.
func form(c echo.Context) (url.Values, error) { return formUpTo(c, maxForm) }

// formUpTo is form for pages that have more to say.
func formUpTo(c echo.Context, most int64) (url.Values, error) {
	r := c.Request()
	kind, _, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	if err != nil || kind != echo.MIMEApplicationForm {
		return nil, badForm(err)
	}
	r.Body = http.MaxBytesReader(c.Response(), r.Body, most)
	var large *http.MaxBytesError
	if err := r.ParseForm(); errors.As(err, &large) {
		return nil, err
	} else if err != nil {
		return nil, badForm(err)
	}
	return r.PostForm, nil
}

func badForm(err error) error {
	return geo.Fail(geo.Invalid, "server.form", geo.Say("problem.bad-form"), err)
}
