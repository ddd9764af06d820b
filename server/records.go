package server

import (
	"net/http"
	"net/url"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/store"
	"waterstrike/server/account"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

// recordView is the page of one bore.
type recordView struct {
	sheet.Record
	Lang   say.Lang
	Saved  string
	Hidden string
	Data   string // address of the JSON
	Links  []linkView
	Back   *formView // brings a hidden bore back
	Hide   *formView // nil for who may not
	Undo   *undoView
}

// undoView is the button that puts back what was there before the last change.
type undoView struct {
	Action, Button string
	Seq            int64
}

const maxReason = 200 // characters

// recordPage answers GET /bores/:bore.
func (s *Server) recordPage(c echo.Context) error {
	f, err := s.boreFile(c)
	if err != nil {
		return err
	}
	p, id := s.speaker(c), string(f.Bore.ID)
	record, err := sheet.NewRecord(s.Catalogue, p.lang, f, s.Now().Location())
	if err != nil {
		return err
	}
	v := s.frame(c, p.lang)
	v.Title = record.Title
	v.Record = &recordView{Record: record, Lang: p.lang, Data: "/bores/" + id + "/data.json"}
	if c.QueryParams().Has("saved") && !f.Hidden {
		v.Record.Saved = p.Say("record.saved")
	}
	s.recordActs(c, p, v.Record, f)
	return s.show(c, http.StatusOK, v)
}

// recordActs puts on a record what the visitor may do about it.
func (s *Server) recordActs(c echo.Context, p speaker, v *recordView, f sheet.BoreFile) {
	role, address := s.visitor(c).role, "/bores/"+string(f.Bore.ID)
	if r, ok := f.Bore.Position.Get(); ok && !f.Hidden {
		v.Links = append(v.Links, linkView{Name: p.Say("record.advice-here"), Href: "/advice?" + placeQuery(r.Pos, "").Encode()})
	}
	if role >= s.rights[http.MethodPost+" /bores"] && !f.Hidden {
		v.Undo = &undoView{Action: address + "/undo", Button: p.Say("record.take-back")}
	}
	if v.Undo != nil {
		v.Links = append(v.Links, linkView{Name: p.Say("record.correct"), Href: address + "/edit"})
	}
	reason := fieldView{ID: "reason", Name: "reason", Label: p.Say("record.reason"), Type: "text", Max: maxReason, Complete: "off"}
	switch {
	case f.Hidden:
		v.Hidden = p.Say("record.hidden")
		if role >= s.rights[http.MethodPost+" /bores/:bore/restore"] {
			v.Back = &formView{Action: address + "/restore", Button: p.Say("record.bring-back"), Fields: []fieldView{reason}}
		}
	case role >= s.rights[http.MethodPost+" /bores/:bore/hide"]:
		v.Hide = &formView{Heading: p.Say("record.hide"), Intro: p.Say("record.hide.note"), Action: address + "/hide", Button: p.Say("record.hide"), Fields: []fieldView{reason}}
	}
}

// recordJSON answers GET /bores/:bore/data.json.
func (s *Server) recordJSON(c echo.Context) error {
	f, err := s.boreFile(c)
	if err != nil {
		return err
	}
	return c.JSONPretty(http.StatusOK, f, "  ")
}

// boreFile gathers all that is kept of the bore in the address. The history is read first:
// what is written meanwhile makes a correction be refused, and is never lost.
func (s *Server) boreFile(c echo.Context) (f sheet.BoreFile, err error) {
	ctx, id := c.Request().Context(), c.Param("bore")
	if len(id) != 36 || uuid.Validate(id) != nil {
		return f, echo.ErrNotFound
	}
	told, err := s.Records.Told(ctx, id)
	if err != nil {
		return f, err
	}
	f.Bore.ID = geo.BoreID(id)
	f.History = deeds(told)
	if n := len(told); n > 0 {
		f.Seq = told[n-1].Seq
		f.Hidden = told[n-1].Did == store.DidHide
	}
	b, err := s.Records.Bore(ctx, geo.BoreID(id))
	if f.Hidden && geo.KindOf(err) == geo.NotFound {
		return f, nil
	}
	if err != nil {
		return f, err
	}
	f.Bore, f.Hidden = b, false
	f.Checks = check.Bore(b, geo.DateOf(s.Now()))
	if len(b.Pipes)+len(b.Fills) > 0 {
		f.Review = s.Trade.Review(b)
	}
	f.Issues, err = s.Records.IssuesOf(ctx, id)
	return f, err
}

func deeds(told []store.Telling) []sheet.Deed {
	out := make([]sheet.Deed, len(told))
	for i, t := range told {
		out[i] = sheet.Deed{
			Seq: t.Seq, At: t.At, Who: t.Who, Why: t.Why, Batch: t.Batch, Outside: t.Outside, Undone: t.Undone,
			Did: string(t.Did), Told: t.Told,
		}
	}
	return out
}

// hideBore answers POST /bores/:bore/hide.
func (s *Server) hideBore(c echo.Context) error {
	return s.actOn(c, "bore", func(id string, sent url.Values) error {
		return s.Records.Hide(c.Request().Context(), id, s.why(c, sent.Get("reason")))
	})
}

// restoreBore answers POST /bores/:bore/restore.
func (s *Server) restoreBore(c echo.Context) error {
	return s.actOn(c, "bore", func(id string, sent url.Values) error {
		return s.Records.Restore(c.Request().Context(), id, s.why(c, sent.Get("reason")))
	})
}

// undoBore answers POST /bores/:bore/undo: the change must be one of this bore.
func (s *Server) undoBore(c echo.Context) error { return s.actOn(c, "bore", s.takeBackChange(c)) }

// takeBackChange undoes the change that was sent, which must be one of the record.
func (s *Server) takeBackChange(c echo.Context) func(id string, sent url.Values) error {
	return func(id string, sent url.Values) error {
		told, err := s.Records.Told(c.Request().Context(), id)
		if err != nil {
			return err
		}
		for _, t := range told {
			if sent.Get("seq") == decimal(t.Seq) && t.Did == store.DidChange {
				return s.Records.Undo(c.Request().Context(), t.Seq, s.why(c, s.speaker(c).Say("record.take-back")))
			}
		}
		return badParameter("seq", sent.Get("seq"))
	}
}

// actOn does something to the record of a kind in the address, "bore" or "siting", and shows
// it as it is then.
func (s *Server) actOn(c echo.Context, kind string, do func(id string, sent url.Values) error) error {
	id := c.Param(kind)
	if len(id) != 36 || uuid.Validate(id) != nil {
		return echo.ErrNotFound
	}
	sent, err := form(c)
	if err != nil {
		return err
	}
	if len([]rune(sent.Get("reason"))) > maxReason {
		return geo.Fail(geo.Invalid, "server.actOn", geo.Say("problem.too-long"), nil)
	}
	if err := do(id, sent); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/"+kind+"s/"+id)
}

// why is who changes a record and for what reason, for its history.
func (s *Server) why(c echo.Context, reason string) store.Why {
	return store.Why{Who: s.visitor(c).name, Reason: reason}
}

// recordRoutes are there where records are shown one by one.
func (s *Server) recordRoutes() []route {
	if s.Records == nil {
		return nil
	}
	const get, post = http.MethodGet, http.MethodPost
	return append(s.sitingRoutes(), []route{
		{get, "/bores/new", account.Field, s.newBore},
		{get, "/bores/:bore/edit", account.Field, s.editBore},
		{get, "/bores/:bore", account.Reader, s.recordPage},
		{get, "/bores/:bore/data.json", account.Reader, s.recordJSON},
		{post, "/bores", account.Field, s.receiveBore},
		{post, "/bores/check", account.Field, s.checkBore},
		{post, "/bores/:bore/undo", account.Field, s.undoBore},
		{post, "/bores/:bore/hide", account.Planner, s.hideBore},
		{post, "/bores/:bore/restore", account.Planner, s.restoreBore},
	}...)
}
