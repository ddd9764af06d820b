package server

import (
	"net/http"
	"net/netip"
	"strconv"
	"time"

	"waterstrike/geo"
	"waterstrike/server/account"

	"github.com/labstack/echo/v4"
)

const visitorKey = "visitor"

// visitor is who asks.
type visitor struct {
	id   int64 // 0 for nobody in particular
	name string
	role account.Role
}

// stranger is who has not signed in. Where nobody can, only this computer reaches the
// server, and whoever sits at it may do everything that concerns no people.
func (s *Server) stranger() visitor {
	if s.People == nil {
		return visitor{role: account.Planner}
	}
	return visitor{}
}

// visitor returns who asks, once that was found out.
func (s *Server) visitor(c echo.Context) visitor {
	if v, ok := c.Get(visitorKey).(visitor); ok {
		return v
	}
	return s.stranger()
}

// recognise finds out who asks by the session, or of a program by name and password. The file of people is asked each time: what
// a keeper takes away is gone with the next request.
func (s *Server) recognise(c echo.Context) (visitor, error) {
	if s.People == nil || c.Path() == staticPath || unsafe(c) {
		return s.stranger(), nil
	}
	ctx := c.Request().Context()
	id := s.sessions.GetInt64(ctx, sessionPerson)
	if id == 0 {
		return s.byPassword(c)
	}
	p, err := s.People.Person(ctx, id)
	if err != nil && geo.KindOf(err) != geo.NotFound {
		return visitor{}, err
	}
	now := s.Now()
	seen := time.Unix(s.sessions.GetInt64(ctx, sessionSeen), 0)
	if err != nil || p.Closed || p.Stamp != s.sessions.GetInt64(ctx, sessionStamp) || now.Sub(seen) > sessionIdle {
		return visitor{}, s.sessions.Destroy(ctx)
	}
	if now.Sub(seen) > sessionNoted {
		s.sessions.Put(ctx, sessionSeen, now.Unix())
	}
	return visitor{p.ID, p.Name, p.Role}, nil
}

// pageTag makes an ETag of a page: besides what it tells, it depends on who asks, in which
// language and under which name of this computer.
func (s *Server) pageTag(c echo.Context, parts ...string) string {
	v := s.visitor(c)
	return tag(append(parts, s.Version, s.language(c).String(), c.Request().URL.RawQuery, c.Request().Host,
		strconv.FormatInt(v.id, 10), v.name, v.role.String())...)
}

// place is where a request comes from, as far as attempts are counted: an address, or the
// network of one where a network has more addresses than attempts. What the sender says of
// itself in headers does not count.
func place(r *http.Request) string {
	at, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	address := at.Addr().Unmap().WithZone("")
	if address.Is6() {
		if network, err := address.Prefix(64); err == nil {
			return network.String()
		}
	}
	return address.String()
}
