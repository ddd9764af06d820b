package server

import (
	"net/http"
	"time"

	"waterstrike/server/account"

	"github.com/alexedwards/scs/v2"
	"github.com/labstack/echo/v4"
)

// How long a person stays signed in: on a phone in the field for weeks, but not on a
// device that nobody has used for a while.
const (
	sessionLife  = 30 * 24 * time.Hour
	sessionIdle  = 7 * 24 * time.Hour
	sessionNoted = time.Hour // how exactly it is noted when a session was last used
)

// What a session holds.
const (
	sessionPerson = "person"
	sessionStamp  = "stamp"
	sessionSeen   = "seen"
)

// newSessions makes the session manager; not by its own New, which starts a store in memory
// that sweeps itself for good. Nobody gets a session before signing in.
func (s *Server) newSessions() *scs.SessionManager {
	m := &scs.SessionManager{
		Store: s.People.Sessions(), HashTokenInStore: true, Codec: scs.GobCodec{}, Lifetime: sessionLife,
		Cookie: scs.SessionCookie{Name: "session", Path: "/", HttpOnly: true, SameSite: http.SameSiteLaxMode, Persist: true},
		ErrorFunc: func(w http.ResponseWriter, r *http.Request, err error) {
			s.fail(err, s.echo.NewContext(r, w))
		},
	}
	if s.Authority != nil {
		m.Cookie.Name = "__Host-session" // a browser takes it from this host by HTTPS alone
		m.Cookie.Secure = true
	}
	return m
}

// withSession loads the session and saves it with the answer; static files need none.
func (s *Server) withSession(next echo.HandlerFunc) echo.HandlerFunc {
	if s.People == nil {
		return next
	}
	wrapped := echo.WrapMiddleware(s.sessions.LoadAndSave)(func(c echo.Context) error {
		if err := next(c); err != nil {
			c.Error(err) // within, so that the session is saved once
		}
		return nil
	})
	return func(c echo.Context) error {
		if c.Path() == staticPath || unsafe(c) {
			return next(c)
		}
		return wrapped(c)
	}
}

// enter begins a session of a person. The token is a new one: whoever knew the one of
// before, or planted it, gains nothing.
func (s *Server) enter(c echo.Context, p account.Person) error {
	ctx := c.Request().Context()
	if err := s.sessions.RenewToken(ctx); err != nil {
		return err
	}
	s.sessions.Put(ctx, sessionPerson, p.ID)
	s.sessions.Put(ctx, sessionStamp, p.Stamp)
	s.sessions.Put(ctx, sessionSeen, s.Now().Unix())
	s.Log.Info("signed in", "person", p.ID)
	return nil
}
