package server

import (
	"context"
	"errors"
	"html/template"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"slices"
	"time"

	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/server/authority"
	"waterstrike/server/features"
	"waterstrike/ui/say"

	"github.com/alexedwards/scs/v2"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

// Config is what a server is made of. All but Records, Trade, Packer, Intake, People, Authority,
// Names and Log is required.
type Config struct {
	Advisor   Advisor
	Ground    Ground
	Atlas     Atlas
	Judge     Judge
	Learner   Learner
	Records   Records // nil, with Trade: no record is shown by itself, and nothing is written
	Trade     Trade
	Seasons   Seasons
	Features  features.Source
	Packer    Packer // nil: nobody can take a site along to a hole
	Surveyor  Surveyor
	Intake    Intake // nil: no files are handed in
	Catalogue *say.Catalogue
	Templates fs.FS // of package ui
	Static    fs.FS // of package ui
	Version   string
	Now       func() time.Time
	People    *account.Book        // nil: nobody signs in, and only this computer is served
	Authority *authority.Authority // vouches for this computer by HTTPS; nil: HTTP, and only this computer is served
	Names     []string             // names of this computer besides those of the loopback, in lower case
	Log       *slog.Logger         // silent when nil
}

// Server is the routes with what they need. It is safe for concurrent use.
type Server struct {
	Config
	echo      *echo.Echo
	templates *template.Template
	reckoning reckoning
	seasons   errands[*season.Season]
	survey    survey
	achieved  achieved
	rights    map[string]account.Role // by method and path of the route
	sessions  *scs.SessionManager     // nil where nobody signs in
	programs  *programs
	limits    limits
	life      context.Context // of what runs on behind the answers
	stop      context.CancelFunc
}

// New puts a server together.
func New(c Config) (*Server, error) {
	if c.Advisor == nil || c.Ground == nil || c.Atlas == nil || c.Judge == nil || c.Learner == nil || c.Seasons == nil || c.Features == nil || c.Surveyor == nil || c.Catalogue == nil || c.Templates == nil || c.Static == nil || c.Now == nil {
		return nil, errors.New("server: advisor, ground, atlas, judge, learner, seasons, features, surveyor, catalogue, templates, static files and clock are needed")
	}
	if (c.Records == nil) != (c.Trade == nil) {
		return nil, errors.New("server: records and the trade's rules go together")
	}
	if c.Log == nil {
		c.Log = slog.New(slog.NewTextHandler(io.Discard, nil))
	}
	s := &Server{Config: c, echo: echo.New(), programs: newPrograms(), limits: usualLimits()}
	if c.People != nil {
		s.sessions = s.newSessions()
	}
	s.life, s.stop = context.WithCancel(context.Background())
	s.survey.port, s.survey.log = c.Surveyor, c.Log
	var err error
	if s.templates, err = s.parseTemplates(); err != nil {
		return nil, err
	}
	s.echo.HideBanner, s.echo.HidePort = true, true
	s.echo.HTTPErrorHandler = s.fail
	s.echo.Pre(middleware.RemoveTrailingSlash(), packed(), s.observe, s.recovered, s.guard)
	s.echo.Use(s.ownSite(), s.withSession, s.admit)
	s.routes()
	return s, nil
}

// Handler returns the routes, for tests and for other listeners.
func (s *Server) Handler() http.Handler { return s.echo }

// Routes lists the paths that are answered, for checks of the documentation.
func (s *Server) Routes() []string {
	var out []string
	for _, r := range s.echo.Routes() {
		if r.Method == http.MethodGet {
			out = append(out, r.Path)
		}
	}
	slices.Sort(out)
	return out
}

// limits are how long a connection may take for each step. An advice takes well under a
// second.
type limits struct{ header, read, write, idle time.Duration }

func usualLimits() limits {
	return limits{header: 5 * time.Second, read: 10 * time.Second, write: 30 * time.Second, idle: 2 * time.Minute}
}

const (
	answerTimeout = 20 * time.Second
	headerBytes   = 16 << 10
	closeTimeout  = 5 * time.Second
)

// Serve answers on a listener until the context ends; then it lets running answers
// finish, for a few seconds, and returns nil. An account being taken ends with it.
// [geo.Invalid] for a listener that others than this computer reach, unless they have to
// sign in and nobody can read along.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	defer s.stop()
	if at := l.Addr().String(); !onlyHere(at) && (s.People == nil || s.Authority == nil) {
		return geo.Fail(geo.Invalid, "server.Serve", geo.Say("problem.not-loopback", geo.With("value", geo.Text(at))), nil)
	}
	srv := s.connections(s.echo)
	if s.Authority == nil {
		return s.until(ctx, srv, func() error { return srv.Serve(l) })
	}
	srv.TLSConfig = s.Authority.TLS(s.Names)
	return s.until(ctx, srv, func() error { return srv.ServeTLS(l, "", "") })
}

// connections takes connections for a handler, none of which may dawdle.
func (s *Server) connections(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: s.limits.header,
		ReadTimeout:       s.limits.read,
		WriteTimeout:      s.limits.write,
		IdleTimeout:       s.limits.idle,
		MaxHeaderBytes:    headerBytes,
		ErrorLog:          slog.NewLogLogger(s.Log.Handler(), slog.LevelWarn),
	}
}

// until serves until the context ends, and lets running answers finish.
func (s *Server) until(ctx context.Context, srv *http.Server, serve func() error) error {
	ended := make(chan error, 1)
	go func() {
		<-ctx.Done()
		wait, cancel := context.WithTimeout(context.WithoutCancel(ctx), closeTimeout)
		defer cancel()
		ended <- srv.Shutdown(wait)
	}()
	if err := serve(); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-ended
}
