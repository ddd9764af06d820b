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

	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// Config is what a server is made of. All but Log is required.
type Config struct {
	Advisor   Advisor
	Ground    Ground
	Judge     Judge
	Catalogue *say.Catalogue
	Templates fs.FS // of package ui
	Static    fs.FS // of package ui
	Version   string
	Now       func() time.Time
	Log       *slog.Logger // silent when nil
}

// Server is the routes with what they need. It is safe for concurrent use.
type Server struct {
	Config
	echo      *echo.Echo
	templates *template.Template
	account   account
	life      context.Context // of what runs on behind the answers
	stop      context.CancelFunc
}

// New puts a server together.
func New(c Config) (*Server, error) {
	if c.Advisor == nil || c.Ground == nil || c.Judge == nil || c.Catalogue == nil || c.Templates == nil || c.Static == nil || c.Now == nil {
		return nil, errors.New("server: advisor, ground, judge, catalogue, templates, static files and clock are needed")
	}
	if c.Log == nil {
		c.Log = slog.New(slog.NewTextHandler(io.Discard, nil))
	}
	s := &Server{Config: c, echo: echo.New()}
	s.life, s.stop = context.WithCancel(context.Background())
	var err error
	if s.templates, err = s.parseTemplates(); err != nil {
		return nil, err
	}
	s.echo.HideBanner, s.echo.HidePort = true, true
	s.echo.HTTPErrorHandler = s.fail
	s.echo.Pre(s.observe, s.recovered, s.guard)
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

func (s *Server) routes() {
	s.read("/", s.ask)
	s.read("/advice", s.advice)
	s.read("/advice.json", s.adviceJSON)
	s.read("/map.svg", s.mapPicture)
	s.read("/trust", s.trust)
	s.read("/trust.json", s.trustJSON)
	s.read("/health", s.health)
	s.read("/static/*", s.static)
}

func (s *Server) read(path string, h echo.HandlerFunc) {
	s.echo.GET(path, h)
	s.echo.HEAD(path, h)
}

// The limits of a connection. An advice takes well under a second.
const (
	headerTimeout = 5 * time.Second
	readTimeout   = 10 * time.Second
	writeTimeout  = 30 * time.Second
	idleTimeout   = 2 * time.Minute
	answerTimeout = 20 * time.Second
	headerBytes   = 16 << 10
	closeTimeout  = 5 * time.Second
)

// Serve answers on a listener until the context ends; then it lets running answers
// finish, for a few seconds, and returns nil. An account being taken ends with it.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	defer s.stop()
	srv := &http.Server{
		Handler:           s.echo,
		ReadHeaderTimeout: headerTimeout,
		ReadTimeout:       readTimeout,
		WriteTimeout:      writeTimeout,
		IdleTimeout:       idleTimeout,
		MaxHeaderBytes:    headerBytes,
		ErrorLog:          slog.NewLogLogger(s.Log.Handler(), slog.LevelWarn),
	}
	ended := make(chan error, 1)
	go func() {
		<-ctx.Done()
		wait, cancel := context.WithTimeout(context.WithoutCancel(ctx), closeTimeout)
		defer cancel()
		ended <- srv.Shutdown(wait)
	}()
	if err := srv.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-ended
}
