package server

import (
	"net/http"
	"slices"

	"waterstrike/server/account"

	"github.com/labstack/echo/v4"
)

// route is one address: who may use it, and what answers.
type route struct {
	method, path string
	least        account.Role // this and the roles above it; Nobody: all, signed in or not
	answer       echo.HandlerFunc
}

// table lists every address with who may use it. It is the only such list: the router is
// filled from it, and [Server.admit] lets nobody through to an address that is not in it.
func (s *Server) table() []route {
	const get, post = http.MethodGet, http.MethodPost
	all := []route{
		{get, "/", account.Reader, s.ask},
		{get, "/advice", account.Reader, s.advice},
		{get, "/advice.json", account.Reader, s.adviceJSON},
		{get, "/building", account.Reader, s.building},
		{get, "/building.pdf", account.Reader, s.buildingPDF},
		{get, "/sheets", account.Reader, s.manySheets},
		{get, "/sheets.pdf", account.Reader, s.manySheetsPDF},
		{get, "/map.svg", account.Reader, s.mapPicture},
		{get, "/map", account.Reader, s.atlas},
		{get, "/list", account.Reader, s.list},
		{get, "/spot", account.Reader, s.spot},
		{get, "/find.json", account.Reader, s.find},
		{get, "/section", account.Reader, s.section},
		{get, "/section.svg", account.Reader, s.sectionPicture},
		{get, "/tiles/bores/:z/:x/:y", account.Reader, s.boreTile},
		{get, "/tiles/places/:z/:x/:y", account.Reader, s.placeTile},
		{get, "/tiles/contours/:z/:x/:y", account.Reader, s.contourTile},
		{get, "/tiles/shade/:z/:x/:y", account.Reader, s.shadeTile},
		{get, "/tiles/charts/:chart/:z/:x/:y", account.Reader, s.chartTile},
		{get, "/surface.json", account.Reader, s.surfaceJSON},
		{get, "/tiles/surface/:of/:z/:x/:y", account.Reader, s.surfaceTile},
		{get, "/trust", account.Reader, s.trust},
		{get, "/trust.json", account.Reader, s.trustJSON},
		{get, "/learnt", account.Reader, s.learnt},
		{get, "/learnt.json", account.Reader, s.learntJSON},
		{get, "/pumping", account.Reader, s.pumping},
		{post, "/pumping", account.Reader, s.pumpingSent},
		{get, "/pumping.json", account.Reader, s.pumpingJSON},
		{get, "/pumping.pdf", account.Reader, s.pumpingPDF},
		{get, "/choose", account.Planner, s.choose},
		{get, "/choose.json", account.Planner, s.chooseJSON},
		{get, "/choose.csv", account.Planner, s.chooseCSV},
		{get, "/choose.pdf", account.Planner, s.choosePDF},
		{post, "/choose/stop", account.Planner, s.stopChoosing},
		{get, "/served", account.Reader, s.served},
		{get, "/served.json", account.Reader, s.servedAs(echo.MIMEApplicationJSON, s.servedJSON)},
		{get, "/served.pdf", account.Reader, s.servedAs("application/pdf", s.servedPDF)},
		{get, "/served.html", account.Reader, s.keepServed(s.servedAs(echo.MIMETextHTMLCharsetUTF8, s.servedFile))},
		{get, "/health", account.Nobody, s.health},
		{get, staticPath, account.Nobody, s.static},
	}
	all = slices.Concat(all, s.featureRoutes(featuresRoot, account.Reader), s.recordRoutes(), s.holeRoutes(), s.intakeRoutes())
	if s.People == nil {
		return all
	}
	if s.Authority != nil {
		all = append(all, route{get, phonePath, account.Nobody, s.phonePage}, route{get, certificatePath, account.Nobody, s.certificate})
	}
	all = append(all, s.featureRoutes("/shared/:token"+featuresRoot, account.Nobody)...) // the token is the right
	return append(all, []route{
		{get, "/sign-in", account.Nobody, s.signInPage},
		{post, "/sign-in", account.Nobody, s.signIn},
		{post, "/sign-out", account.Nobody, s.signOut},
		{get, "/begin", account.Nobody, s.beginPage},
		{post, "/begin", account.Nobody, s.begin},
		{get, "/join", account.Nobody, s.joinPage},
		{post, "/join", account.Nobody, s.join},
		{get, "/me", account.Reader, s.mePage},
		{post, "/me", account.Reader, s.changePassword},
		{get, "/people", account.Keeper, s.peoplePage},
		{post, "/people", account.Keeper, s.invite},
		{post, "/people/:person/role", account.Keeper, s.setRole},
		{post, "/people/:person/code", account.Keeper, s.newCode},
		{post, "/people/:person/shut", account.Keeper, s.shutOut},
		{post, "/people/:person/readmit", account.Keeper, s.readmit},
		{get, "/shares", account.Planner, s.sharesPage},
		{post, "/shares", account.Planner, s.makeShare},
		{post, "/shares/:share/withdraw", account.Planner, s.withdrawShare},
		{get, "/shared/:token", account.Nobody, s.shared}, // the token is the right
		{get, "/shared/:token/map.svg", account.Nobody, s.sharedPicture},
	}...)
}

// featureRoutes are the addresses of the standard of features below a root.
func (s *Server) featureRoutes(root string, least account.Role) []route {
	return []route{
		{http.MethodGet, root, least, s.featuresLanding},
		{http.MethodGet, root + "/api", least, s.featuresAPI},
		{http.MethodGet, root + "/conformance", least, s.featuresConformance},
		{http.MethodGet, root + "/collections", least, s.featuresCollections},
		{http.MethodGet, root + "/collections/:collection", least, s.featuresCollection},
		{http.MethodGet, root + "/collections/:collection/items", least, s.featuresItems},
		{http.MethodGet, root + "/collections/:collection/items/:feature", least, s.featuresItem},
	}
}

// routes fills the router. HEAD is answered wherever GET is.
func (s *Server) routes() {
	s.rights = map[string]account.Role{}
	for _, r := range s.table() {
		methods := []string{r.method}
		if r.method == http.MethodGet {
			methods = append(methods, http.MethodHead)
		}
		for _, m := range methods {
			s.echo.Add(m, r.path, r.answer)
			s.rights[m+" "+r.path] = r.least
		}
	}
}

// deniedError is a request that its sender may not make.
type deniedError struct{ signIn bool } // who it is has to be known first

func (e *deniedError) Error() string { return "server: denied" }

// admit finds out who asks and decides by the table whether they may.
func (s *Server) admit(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		v, err := s.recognise(c)
		if err != nil {
			return err
		}
		c.Set(visitorKey, v)
		if s.People != nil && c.Path() != staticPath {
			c.Response().Header().Set("Cache-Control", "private, no-cache")
		}
		least, known := s.rights[c.Request().Method+" "+c.Path()]
		switch {
		case unsafe(c) && !slices.Contains(openInClear(), c.Path()):
			return echo.ErrNotFound
		case !known:
			return noRoute(c)
		case v.role >= least:
			return next(c)
		case v.id == 0 && forPeople(c.Request()):
			return c.Redirect(http.StatusSeeOther, signInFor(c.Request().URL))
		}
		return &deniedError{signIn: v.id == 0}
	}
}

// noRoute tells that there is no such address, or not with that method.
func noRoute(c echo.Context) error {
	allowed, ok := c.Get(echo.ContextKeyHeaderAllow).(string)
	if !ok {
		return echo.ErrNotFound
	}
	c.Response().Header().Set(echo.HeaderAllow, allowed)
	return echo.ErrMethodNotAllowed
}
