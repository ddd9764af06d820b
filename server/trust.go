package server

import (
	"encoding/json"
	"net/http"
	"strconv"

	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// lookAgain is after how many seconds a page that waits for an account looks again.
const lookAgain = 3

// present returns what can be shown of the account of the present state.
func (s *Server) present(c echo.Context) (reckoned, error) {
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return reckoned{}, err
	}
	return s.reckoning.look(s.life, s.Judge, state)
}

// trust answers GET /trust: the account, or how far it is.
func (s *Server) trust(c echo.Context) error {
	now, err := s.present(c)
	if err != nil {
		return err
	}
	l := s.language(c)
	v := s.frame(c, l)
	v.Title = s.Catalogue.Say(l, say.Msg("screen.track-record"))
	if now.report == nil {
		v.Working = s.working(l, now)
		v.Refresh = lookAgain
		return s.show(c, http.StatusOK, v)
	}
	older := strconv.FormatBool(now.older)
	if unchanged(c, s.pageTag(c, "trust", now.report.Snapshot, older)) {
		return notModified(c)
	}
	page, err := sheet.NewTrustPage(s.Catalogue, l, *now.report)
	if err != nil {
		return err
	}
	v.Account = &accountView{Account: page, Lang: l, Data: "/trust.json"}
	if now.older {
		v.Account.Older = s.Catalogue.Say(l, say.Msg("trust.older"))
	}
	return s.show(c, http.StatusOK, v)
}

func (s *Server) working(l say.Lang, now reckoned) *workingView {
	v := &workingView{
		Heading: s.Catalogue.Say(l, say.Msg("trust.working")), Words: s.Catalogue.Say(l, say.Msg("trust.working.why")),
		Done: s.Catalogue.Say(l, say.Msg("trust.working.fits")), Data: "/trust.json", Asked: now.done, Total: now.total,
	}
	if now.total > 0 {
		v.Done = s.Catalogue.Say(l, say.Msg("trust.progress", say.With("n", say.Count(now.done)), say.With("total", say.Count(now.total))))
	}
	return v
}

// trustJSON answers GET /trust.json: the account, or 202 with how far it is.
func (s *Server) trustJSON(c echo.Context) error {
	now, err := s.present(c)
	if err != nil {
		return err
	}
	if now.report == nil || now.older {
		c.Response().Header().Set("Retry-After", strconv.Itoa(lookAgain))
		return c.JSON(http.StatusAccepted, map[string]int{"asked": now.done, "total": now.total})
	}
	if unchanged(c, tag("trust.json", now.report.Snapshot, s.Version)) {
		return notModified(c)
	}
	body, err := json.MarshalIndent(now.report, "", "  ")
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, echo.MIMEApplicationJSON, append(body, '\n'))
}
