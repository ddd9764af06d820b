package server

import (
	"math"
	"net/http"
	"net/url"
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/server/account"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

// sitingView is the page of one siting visit.
type sitingView struct {
	sheet.SitingPage
	Lang   say.Lang
	Saved  string
	Hidden string
	Links  []linkView
	Back   *formView // brings a hidden visit back
	Hide   *formView // nil for who may not
	Undo   *undoView
}

// newSiting answers GET /sitings/new: the form of a visit, at a position where one is given.
func (s *Server) newSiting(c echo.Context) error {
	fields := url.Values{"id": {string(geo.NewSitingID())}, "since": {"0"}, "at": {clip(c.QueryParam("at"))}, "place": {clip(c.QueryParam("place"))}}
	return s.showSitingForm(c, fields, nil, nil)
}

// editSiting answers GET /sitings/:siting/edit.
func (s *Server) editSiting(c echo.Context) error {
	v, told, err := s.sitingOf(c)
	if err != nil {
		return err
	}
	fields := url.Values{"id": {string(v.ID)}, "since": {decimal(told[len(told)-1].Seq)}, "at": {positionText(geo.Some(v.Position))}}
	for _, cells := range sitingCells() {
		for _, one := range cells {
			fields.Set(one.name, one.get(&v))
		}
	}
	nearRows().write(&v, fields)
	return s.showSitingForm(c, fields, nil, nil)
}

func (s *Server) showSitingForm(c echo.Context, sent url.Values, faults []fault, failed error) error {
	p := s.speaker(c)
	e := &entryView{Heading: p.Say("siting.new"), Intro: p.Say("siting.intro"), Action: "/sitings", Draft: "siting new", Faults: faults}
	if sent.Get("since") != "0" {
		e.Heading, e.Draft = p.Say("siting.edit"), "siting "+sent.Get("id")
	}
	cells := sitingCells()
	for _, key := range partsOfSiting {
		part := entryPart{Key: key, Heading: p.Say("siting.part." + key)}
		if hint := "siting.part." + key + ".hint"; s.Catalogue.Has(hint) {
			part.Hint = p.Say(hint)
		}
		for _, one := range cells[key] {
			part.Fields = append(part.Fields, fieldOf(p, "siting", "", one, sent))
		}
		switch key {
		case "spot":
			part.Fields = append(part.Fields, p.positionField(sent))
		case "near":
			part.Lists = []listView{nearRows().view(p, sent)}
		case "who":
			if sent.Get("since") != "0" {
				part.Fields = append(part.Fields, p.whyField(sent))
			}
		}
		e.Parts = append(e.Parts, part)
	}
	status := http.StatusOK
	if len(faults) > 0 {
		status = http.StatusBadRequest
	}
	return s.showForm(c, status, e, sent, failed)
}

// receiveSiting answers POST /sitings, in the way that POST /bores does.
func (s *Server) receiveSiting(c echo.Context) error {
	if !isForm(c.Request()) {
		return badForm(nil)
	}
	body, sent, err := readForm(c)
	if err != nil {
		return err
	}
	v, since, faults, err := s.readSiting(c, sent)
	if err == nil && len(faults) > 0 {
		err = &faultsError{faults}
	}
	var got store.Received
	if err == nil {
		points := dugWells(&v, since)
		got, err = s.Records.ReceiveSiting(c.Request().Context(), v, points, store.Sent{Since: since, Body: body}, s.why(c, sent.Get("why")))
	}
	switch {
	case err == nil && wantsJSON(c.Request()):
		return c.JSON(http.StatusOK, told{geo.BoreID(v.ID), got.Seq, got.Again, "/sitings/" + string(v.ID), []issueView{}})
	case err == nil:
		return c.Redirect(http.StatusSeeOther, "/sitings/"+string(v.ID)+"?saved")
	case wantsJSON(c.Request()):
		return err
	case len(faults) > 0:
		return s.showSitingForm(c, sent, faults, nil)
	}
	return s.showSitingForm(c, sent, nil, err)
}

// readSiting reads the form of a visit.
func (s *Server) readSiting(c echo.Context, sent url.Values) (v geo.Siting, since int64, faults []fault, err error) {
	p, id := s.speaker(c), sent.Get("id")
	since, err = strconv.ParseInt(sent.Get("since"), 10, 64)
	if err != nil || uuid.Validate(id) != nil || len([]rune(sent.Get("why"))) > maxReason {
		return v, 0, nil, badForm(err)
	}
	old, err := s.Records.Siting(c.Request().Context(), geo.SitingID(id))
	if err != nil && geo.KindOf(err) != geo.NotFound {
		return v, 0, nil, err
	}
	if since == 0 {
		old = geo.Siting{}
	}
	v = old
	v.ID = geo.SitingID(id)
	cells := sitingCells()
	for _, key := range partsOfSiting {
		faults = append(faults, takeAll(p, "siting", "", cells[key], sent, &v)...)
	}
	faults = append(faults, nearRows().read(p, sent, &old, &v)...)
	var at geo.Opt[coord.Reading]
	if since != 0 {
		at = geo.Some(old.Position)
	}
	wrong := placed(&at, sent.Get("at"))
	if wrong == nil && !at.Known() {
		wrong = geo.Fail(geo.Invalid, "server.readSiting", geo.Say("problem.no-position"), nil)
	}
	if wrong != nil {
		faults = append(faults, fault{"at", p.Say("bore.position"), p.tell(failureOf(wrong).message)})
	}
	v.Position = at.Or(coord.Reading{})
	if len(faults) > 0 {
		return v, since, faults, nil
	}
	if v, err = geo.NewSiting(v); err != nil {
		return v, since, nil, badRecord(err)
	}
	return v, since, nil, nil
}

// dugWells makes water points of the dug wells of a visit that tell of the water: by their
// depth, or the months in which they are dry. Where nobody said in which direction one
// lies, its position is only as good as its distance.
func dugWells(v *geo.Siting, since int64) []geo.WaterPoint {
	var out []geo.WaterPoint
	for i := range v.Near {
		n := &v.Near[i]
		if n.Kind != geo.NearDugWell || !n.DepthM.Known() && !n.DryMonths.Known() {
			continue
		}
		if n.PointID == "" {
			own := uuid.MustParse(string(v.ID))
			n.PointID = geo.WaterPointID(uuid.NewSHA1(own, []byte(decimal(since)+" "+strconv.Itoa(i))).String())
		}
		out = append(out, geo.WaterPoint{
			ID: n.PointID, Name: firstOf(n.Words, v.Place), Kind: geo.DugWell, Position: beside(v.Position, *n), DepthM: n.DepthM, DryMonths: n.DryMonths,
			Source: geo.Provenance{By: v.Source.By, Fields: saidBy(n.SaidBy)},
		})
	}
	return out
}

// saidBy keeps who said how deep a well is and when it is dry.
func saidBy(who string) map[string]string {
	if who == "" {
		return nil
	}
	return map[string]string{"depth-m": who, "dry-months": who}
}

// beside is where a thing near a spot stands.
func beside(spot coord.Reading, n geo.Nearby) coord.Reading {
	distance, known := n.DistanceM.Get()
	bearing, pointed := n.BearingDeg.Get()
	out := coord.Reading{Pos: spot.Pos, CRS: spot.CRS, PrecisionM: spot.PrecisionM}
	switch {
	case known && pointed:
		sin, cos := math.Sincos(bearing * math.Pi / 180)
		out.Pos = coord.NewPlane(spot.Pos).LonLat(coord.XY{X: distance * sin, Y: distance * cos})
		out.PrecisionM += distance / 10 // a distance paced, a bearing read from a compass: common practice
	case known:
		out.PrecisionM += distance
	}
	return out
}

// sitingOf returns the visit in the address with its history.
func (s *Server) sitingOf(c echo.Context) (v geo.Siting, told []store.Telling, err error) {
	id := c.Param("siting")
	if len(id) != 36 || uuid.Validate(id) != nil {
		return v, nil, echo.ErrNotFound
	}
	ctx := c.Request().Context()
	if told, err = s.Records.Told(ctx, id); err != nil {
		return v, nil, err
	}
	v, err = s.Records.Siting(ctx, geo.SitingID(id))
	return v, told, err
}

// sitingPage answers GET /sitings/:siting.
func (s *Server) sitingPage(c echo.Context) error {
	v, told, err := s.sitingOf(c)
	hidden := geo.KindOf(err) == geo.NotFound && len(told) > 0 && told[len(told)-1].Did == store.DidHide
	if err != nil && !hidden {
		return err
	}
	p := s.speaker(c)
	page := s.frame(c, p.lang)
	visit := sheet.Visit{Siting: v, Apart: s.Trade.Apart()}
	page.Siting = &sitingView{SitingPage: sheet.NewSiting(s.Catalogue, p.lang, visit, deeds(told), s.Now().Location()), Lang: p.lang}
	if hidden {
		page.Siting.Parts = nil
	}
	if c.QueryParams().Has("saved") && !hidden {
		page.Siting.Saved = p.Say("siting.saved")
	}
	s.sitingActs(c, p, page.Siting, v, hidden)
	page.Title = page.Siting.Title
	return s.show(c, http.StatusOK, page)
}

// sitingActs puts on a visit what the visitor may do about it.
func (s *Server) sitingActs(c echo.Context, p speaker, view *sitingView, v geo.Siting, hidden bool) {
	role, address := s.visitor(c).role, "/sitings/"+c.Param("siting")
	reason := fieldView{ID: "reason", Name: "reason", Label: p.Say("record.reason"), Type: "text", Max: maxReason, Complete: "off"}
	if hidden {
		view.Hidden = p.Say("siting.hidden")
		if role >= s.rights[http.MethodPost+" /sitings/:siting/restore"] {
			view.Back = &formView{Action: address + "/restore", Button: p.Say("record.bring-back"), Fields: []fieldView{reason}}
		}
		return
	}
	view.Links = []linkView{{Name: p.Say("record.advice-here"), Href: "/advice?" + placeQuery(v.Position.Pos, "").Encode()}}
	if role >= s.rights[http.MethodPost+" /sitings"] {
		view.Links = append(view.Links, linkView{Name: p.Say("record.correct"), Href: address + "/edit"})
		view.Undo = &undoView{Action: address + "/undo", Button: p.Say("record.take-back")}
	}
	if role >= s.rights[http.MethodPost+" /sitings/:siting/hide"] {
		view.Hide = &formView{Heading: p.Say("siting.hide"), Intro: p.Say("siting.hide.note"), Action: address + "/hide", Button: p.Say("siting.hide"), Fields: []fieldView{reason}}
	}
}

// hideSiting answers POST /sitings/:siting/hide: the visit goes out of sight with the water
// points that its dug wells are.
func (s *Server) hideSiting(c echo.Context) error {
	return s.actOn(c, "siting", func(id string, sent url.Values) error {
		return s.Records.Hide(c.Request().Context(), id, s.why(c, sent.Get("reason")))
	})
}

// restoreSiting answers POST /sitings/:siting/restore: the visit comes back with its wells.
func (s *Server) restoreSiting(c echo.Context) error {
	return s.actOn(c, "siting", func(id string, sent url.Values) error {
		return s.Records.Restore(c.Request().Context(), id, s.why(c, sent.Get("reason")))
	})
}

// undoSiting answers POST /sitings/:siting/undo: the change must be one of this visit.
func (s *Server) undoSiting(c echo.Context) error { return s.actOn(c, "siting", s.takeBackChange(c)) }

// sitingRoutes are there where records are.
func (s *Server) sitingRoutes() []route {
	return []route{
		{http.MethodGet, "/sitings/new", account.Field, s.newSiting},
		{http.MethodPost, "/sitings", account.Field, s.receiveSiting},
		{http.MethodGet, "/sitings/:siting", account.Reader, s.sitingPage},
		{http.MethodGet, "/sitings/:siting/edit", account.Field, s.editSiting},
		{http.MethodPost, "/sitings/:siting/undo", account.Field, s.undoSiting},
		{http.MethodPost, "/sitings/:siting/hide", account.Planner, s.hideSiting},
		{http.MethodPost, "/sitings/:siting/restore", account.Planner, s.restoreSiting},
	}
}
