package server

import (
	"context"
	"encoding/json"
	"io/fs"
	"net/http"
	"net/url"
	"strings"

	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// holeView is the shell of the page beside an open hole: the phone fills it, and keeps it
// for when there is no network.
type holeView struct {
	Lang     say.Lang
	Heading  string
	Pack     string // address of the pack; empty where no site is asked about
	Words    string // JSON: code to words
	NoScript string
}

// holeRoutes are there where packs can be made.
func (s *Server) holeRoutes() []route {
	if s.Packer == nil {
		return nil
	}
	const get = http.MethodGet
	return []route{
		{get, holePath, account.Field, s.holePage},
		{get, "/hole/pack.json", account.Field, s.holePack},
		{get, holeWorker, account.Nobody, s.holeKeeper},
	}
}

const (
	holePath   = "/hole"
	holeWorker = "/hole/keeper.js"
)

// holePage answers GET /hole. It holds no name, so that who opens it without a network
// sees nobody's.
func (s *Server) holePage(c echo.Context) error {
	l := s.language(c)
	v := s.frame(c, l)
	v.Who, v.Pages = nil, nil
	v.Title = s.Catalogue.Say(l, say.Msg("hole.page.title"))
	words, err := json.Marshal(s.holeWords(l))
	if err != nil {
		return err
	}
	v.Hole = &holeView{Lang: l, Heading: v.Title, Words: string(words), NoScript: s.Catalogue.Say(l, say.Msg("hole.page.no-script"))}
	if q := dataQuery(c.QueryParams()); len(q) > 0 {
		v.Hole.Pack = "/hole/pack.json?" + q.Encode()
	}
	return s.show(c, http.StatusOK, v)
}

// holeWords are what the page says, by code.
func (s *Server) holeWords(l say.Lang) map[string]string {
	out := map[string]string{}
	for _, code := range s.Catalogue.Codes() {
		for _, area := range []string{"class.", "method.", "month.", "outcome.", "hole."} {
			if strings.HasPrefix(code, area) && len(s.Catalogue.Parameters(code)) == 0 {
				out[code] = s.Catalogue.Say(l, say.Msg(code))
			}
		}
	}
	return out
}

// holePack answers GET /hole/pack.json.
func (s *Server) holePack(c echo.Context) error {
	q, err := s.question(c)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(c.Request().Context(), answerTimeout)
	defer cancel()
	p, err := s.Packer.Pack(ctx, q)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, p)
}

// holeKeeper answers GET /hole/keeper.js: the worker that keeps the page for when there
// is no network. It stands here because it may only keep what lies below its own place.
func (s *Server) holeKeeper(c echo.Context) error {
	body, err := fs.ReadFile(s.Static, "js/hole/keeper.js")
	if err != nil {
		return geo.Fail(geo.Internal, "server.holeKeeper", geo.Message{}, err)
	}
	c.Response().Header().Set("Service-Worker-Allowed", holePath)
	return c.Blob(http.StatusOK, mediaType("keeper.js"), body)
}

// holeOf is the address of the page for what was asked, for those who may open it.
func (s *Server) holeOf(c echo.Context, q url.Values) string {
	least, there := s.rights[http.MethodGet+" "+holePath]
	if !there || s.visitor(c).role < least {
		return ""
	}
	next := dataQuery(q)
	next.Set("lang", s.language(c).String())
	return holePath + "?" + next.Encode()
}
