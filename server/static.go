package server

import (
	"bytes"
	"errors"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"

	"waterstrike/geo"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

const staticPath = "/static/*"

// static answers GET /static/*.
func (s *Server) static(c echo.Context) error {
	name := c.Param("*")
	body, err := fs.ReadFile(s.Static, name)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) || isFolder(s.Static, name) {
		return geo.Fail(geo.NotFound, "server.static", geo.Say("problem.page-not-found"), err)
	}
	if err != nil {
		return err
	}
	if body, err = s.joined(name, body); err != nil {
		return err
	}
	if unchanged(c, tag("static", string(body))) {
		return notModified(c)
	}
	return c.Blob(http.StatusOK, mediaType(name), body)
}

// joined puts the style sheets that one imports in place of their names: asked for one by one
// they cost a phone on a weak network half a second.
func (s *Server) joined(name string, body []byte) ([]byte, error) {
	if path.Ext(name) != ".css" {
		return body, nil
	}
	var out bytes.Buffer
	for line := range bytes.Lines(body) {
		part, imports := bytes.CutPrefix(bytes.TrimSpace(line), []byte(`@import "`))
		if !imports {
			out.Write(line)
			continue
		}
		text, err := fs.ReadFile(s.Static, path.Join(path.Dir(name), strings.TrimSuffix(string(part), `";`)))
		if err != nil {
			return nil, err
		}
		out.Write(text)
	}
	return out.Bytes(), nil
}

func isFolder(files fs.FS, name string) bool {
	info, err := fs.Stat(files, name)
	return err == nil && info.IsDir()
}

// mediaType does not ask the computer's own tables for what we ship: they differ.
func mediaType(name string) string {
	switch ext := path.Ext(name); ext {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	default:
		if kind := mime.TypeByExtension(ext); kind != "" {
			return kind
		}
		return "application/octet-stream"
	}
}

// packed packs what is sent, but for pictures and what is too short to gain: a phone in
// the field gets the map in a third of the time.
func packed() echo.MiddlewareFunc {
	const short = 1000 // bytes: one packet either way
	return middleware.GzipWithConfig(middleware.GzipConfig{
		Level: 5, MinLength: short,
		Skipper: func(c echo.Context) bool {
			path := c.Request().URL.Path
			return strings.HasPrefix(path, "/tiles/shade/") || strings.HasPrefix(path, "/tiles/surface/") || strings.HasPrefix(path, "/tiles/charts/")
		},
	})
}
