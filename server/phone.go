package server

import (
	"context"
	"net"
	"net/http"
	"net/url"
	"strconv"

	"waterstrike/geo"

	"github.com/labstack/echo/v4"
)

const (
	phonePath       = "/phone"
	certificatePath = "/authority.crt"
)

// openInClear are the paths that are answered where others can read along: what a device
// needs that does not trust this computer yet. None of it is secret.
func openInClear() []string { return []string{phonePath, certificatePath, staticPath} }

// inClear marks a request that came in clear; its value is the port of HTTPS.
type inClear struct{}

// unsafe tells whether others can read a request along and change its answer.
func unsafe(c echo.Context) bool { return securePort(c) != 0 }

func securePort(c echo.Context) int {
	port, _ := c.Request().Context().Value(inClear{}).(int)
	return port
}

// ServeDoor answers in clear what a device needs to trust this computer, and nothing else,
// until the context ends. The port is that of HTTPS. [geo.Invalid] for a server without an
// authority.
func (s *Server) ServeDoor(ctx context.Context, l net.Listener, port int) error {
	if s.Authority == nil {
		return geo.Fail(geo.Invalid, "server.ServeDoor", geo.Message{}, nil)
	}
	srv := s.connections(s.door(port))
	return s.until(ctx, srv, func() error { return srv.Serve(l) })
}

// door marks requests as readable by others; whoever comes to the first page is shown the
// steps.
func (s *Server) door(port int) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r = r.WithContext(context.WithValue(r.Context(), inClear{}, port))
		if r.URL.Path == "/" {
			r.URL.Path, r.URL.RawPath = phonePath, ""
		}
		s.echo.ServeHTTP(w, r)
	})
}

// phoneView is how a device learns to trust this computer. The fingerprint to compare is
// not on the page: who can put another certificate on it can put another fingerprint there.
type phoneView struct {
	Heading, Why   string
	Take, Open     linkView
	Install, Check string
	Devices        []string
	Compare, Then  string
}

// phonePage answers GET /phone.
func (s *Server) phonePage(c echo.Context) error {
	p, v := s.speaker(c), s.frame(c, s.language(c))
	at := s.secureAddress(c)
	v.Title, v.Pages, v.Home = p.Say("lan.title"), nil, phonePath
	v.Phone = &phoneView{
		Heading: v.Title, Why: p.Say("lan.why"), Take: linkView{Name: p.Say("lan.take"), Href: certificatePath},
		Install: p.Say("lan.install"), Devices: []string{p.Say("lan.android"), p.Say("lan.iphone"), p.Say("lan.computer")},
		Check: p.Say("lan.check"), Compare: p.Say("lan.compare"),
		Then: p.Say("lan.then"), Open: linkView{Name: at, Href: at + "sign-in?lang=" + v.Tag},
	}
	return s.show(c, http.StatusOK, v)
}

// secureAddress is the first page by HTTPS, under the name that the request has for this
// computer.
func (s *Server) secureAddress(c echo.Context) string {
	to := url.URL{Scheme: "https", Host: c.Request().Host, Path: "/"}
	if port := securePort(c); port != 0 {
		to.Host = net.JoinHostPort(hostOf(c.Request()), strconv.Itoa(port))
	}
	return to.String()
}

// certificate answers GET /authority.crt.
func (s *Server) certificate(c echo.Context) error {
	return c.Blob(http.StatusOK, "application/x-x509-ca-cert", s.Authority.Certificate())
}
