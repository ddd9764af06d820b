package server

import (
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// Echo is the router, to walk its routes.
func (s *Server) Echo() *echo.Echo { return s.echo }

// Hurry shortens how long a connection may take for a step.
func (s *Server) Hurry(step time.Duration) {
	s.limits = limits{header: step, read: step, write: 10 * step, idle: step}
}

// Door answers in clear.
func (s *Server) Door(port int) http.Handler { return s.door(port) }

// Onward is where a visitor is sent on to.
var Onward = onward

// ShortestPassword is what the page says a password needs.
const ShortestPassword = shortestPassword
