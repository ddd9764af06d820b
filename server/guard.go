package server

import (
	"net"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"

	"waterstrike/geo"

	"github.com/labstack/echo/v4"
)

// What every answer tells the browser: load nothing from elsewhere, run nothing that
// stands in the page, be framed by nobody, send no address to other sites.
var headers = map[string]string{
	"Content-Security-Policy":      "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
	"X-Content-Type-Options":       "nosniff",
	"X-Frame-Options":              "DENY",
	"Referrer-Policy":              "no-referrer",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Permissions-Policy":           "camera=(), microphone=(), geolocation=(self)",
	"Cache-Control":                "no-cache",
}

// How long a query may be, in bytes: the longest question of the page needs a tenth of the
// first. Readings and lists of points are texts that people paste.
const (
	maxQuery     = 2048
	maxTextQuery = 12 << 10 // with the other headers within headerBytes
)

// longestQuery is how long the query of a path may be.
func longestQuery(path string) int {
	switch path {
	case "/pumping", "/pumping.json", "/pumping.pdf", "/sheets", "/sheets.pdf":
		return maxTextQuery
	}
	return maxQuery
}

// guard sets the headers and refuses requests that no page of ours makes.
//
// The name of the host is checked because a page from elsewhere may point a name of its
// own at this computer (DNS rebinding): such a request carries that name.
func (s *Server) guard(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		for name, value := range headers {
			c.Response().Header().Set(name, value)
		}
		r := c.Request()
		switch host := hostOf(r); {
		case !s.known(r, host):
			return misdirected(clip(host))
		case len(r.URL.RawQuery) > longestQuery(r.URL.Path):
			return geo.Fail(geo.Invalid, "server.guard", geo.Say("problem.too-long"), nil)
		}
		return next(c)
	}
}

// hostOf is the name that a request has for this computer, without its port.
func hostOf(r *http.Request) string {
	host := r.Host
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return strings.Trim(host, "[]")
}

// known tells whether a name is one of this computer's: of the loopback, one that was
// given, or the very address that the request came in by.
func (s *Server) known(r *http.Request, host string) bool {
	if loopback(host) || slices.Contains(s.Names, strings.ToLower(host)) {
		return true
	}
	local, ok := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr)
	ip := net.ParseIP(host)
	return ok && ip != nil && ip.Equal(local.IP)
}

// observe writes one line for each request. The question itself is left out: where a
// crew means to drill is nobody's business but theirs.
func (s *Server) observe(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		begun := s.Now()
		err := next(c)
		if err != nil {
			c.Error(err)
		}
		path := c.Request().URL.Path
		if strings.Contains(c.Path(), ":token") { // who reads the log must not get in by it
			path = c.Path()
		}
		s.Log.Info("answered", "method", c.Request().Method, "path", path,
			"status", c.Response().Status, "bytes", c.Response().Size, "took", s.Now().Sub(begun))
		return nil
	}
}

// recovered turns a panic into a failure: the program goes on for everybody else.
func (s *Server) recovered(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			r := recover()
			if r == nil {
				return
			}
			s.Log.Error("panic", "path", c.Request().URL.Path, "value", r, "stack", string(debug.Stack()))
			err = geo.Fail(geo.Internal, "server.recovered", geo.Say("problem.internal"), nil)
		}()
		return next(c)
	}
}
