package server

import (
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/arrival"

	"github.com/labstack/echo/v4"
)

// arrivalView is what was handed in together, at the step where it stands.
type arrivalView struct {
	Heading, Aside string
	Alert          string
	Steps          []stepView
	Working        string
	Done, Total    int // of the work; Total 0: nobody knows
	Matching       *matchingView
	Draft          *draftView
	Applied        *appliedView
	Again          *formView // begins again what failed
	Discard        *formView
	DiscardAsk     string
	Back           linkView
}

// stepView is one of the steps from files to records.
type stepView struct {
	Name, Href   string
	Now, Reached bool
}

type appliedView struct {
	Lines []string
	Next  linkView
}

func (s *Server) arrivalOf(c echo.Context) (arrival.Arrival, error) {
	return s.Intake.Arrival(c.Param("arrival"))
}

// arrivalPage answers GET /intake/:arrival.
func (s *Server) arrivalPage(c echo.Context) error {
	a, err := s.arrivalOf(c)
	if err != nil {
		return err
	}
	p, v := s.speaker(c), s.ownFrame(c)
	v.Title = p.filesOf(a)
	v.Refresh = refreshFor(0, a.Doing)
	at := &arrivalView{
		Heading: strings.ReplaceAll(v.Title, "_", "_\u200b"), // a long name breaks there
		Aside:   p.handedIn(a, s.Now().Location()), Back: linkView{Name: p.Say("intake.back"), Href: intakePath},
	}
	v.Arrival = at
	matching := c.QueryParam("show") == "matching" && a.Step == arrival.Draft && !a.Own
	at.Steps = p.steps(a, matching)
	if a.Doing.Work != "" {
		at.Working, at.Done, at.Total = p.doing(a.Doing), a.Doing.Done, a.Doing.Total
		return s.show(c, http.StatusOK, v)
	}
	if a.Failure.Code != "" {
		at.Alert = p.tell(a.Failure)
	}
	at.Discard = &formView{Action: intakePath + "/" + a.ID + "/discard", Button: p.Say("intake.discard.do"), Intro: p.Say("intake.discard.why")}
	at.DiscardAsk = p.Say("intake.discard")
	switch {
	case a.Step == arrival.Received:
		at.Again = &formView{Action: intakePath + "/" + a.ID + "/look", Button: p.Say("intake.look")}
	case a.Step == arrival.Matched || matching:
		at.Matching = p.matching(a)
	case a.Step == arrival.Draft:
		if at.Draft, err = s.draftOf(c, p, a); err != nil {
			return err
		}
	case a.Step == arrival.Applied:
		at.Discard = nil
		if at.Applied, err = s.appliedOf(c, p, a, &v); err != nil {
			return err
		}
	}
	return s.show(c, http.StatusOK, v)
}

// steps names the way from files to records, and where on it an arrival is.
func (s speaker) steps(a arrival.Arrival, matching bool) []stepView {
	here := map[arrival.Step]int{arrival.Received: 0, arrival.Matched: 0, arrival.Draft: 1, arrival.Applied: 2}[a.Step]
	at := intakePath + "/" + a.ID
	steps := []stepView{
		{Name: s.Say("intake.match"), Href: at + "?show=matching"}, {Name: s.Say("intake.draft"), Href: at}, {Name: s.Say("intake.apply")},
	}
	for i := range steps {
		steps[i].Reached = i < here
		steps[i].Now = i == here && !matching || i == 0 && matching
		if i > here || steps[i].Now || a.Step != arrival.Draft || i == 0 && a.Own {
			steps[i].Href = ""
		}
	}
	return steps
}

// appliedOf says what became of the records of an arrival up to now.
func (s *Server) appliedOf(c echo.Context, p speaker, a arrival.Arrival, v *view) (*appliedView, error) {
	lines := []string{p.tell(geo.Say("intake.applied", geo.With("added", geo.Count(a.Compared.Added)),
		geo.With("changed", geo.Count(a.Compared.Changed)), geo.With("same", geo.Count(a.Compared.Same))))}
	imports, err := s.Intake.Imports(c.Request().Context())
	if err != nil {
		return nil, err
	}
	next := p.Say("intake.imports")
	at := slices.IndexFunc(imports, func(i arrival.Import) bool { return i.ID == a.Batch })
	switch {
	case at < 0:
		lines = append(lines, p.Say("intake.nothing-new"))
	case imports[at].TakenBack:
		lines = append(lines, p.takenBack(imports[at], s.Now().Location()), p.Say("intake.bring-again"))
		next = p.Say("intake.heading")
	case imports[at].Doing.Work != "":
		lines, v.Refresh = append(lines, p.doing(imports[at].Doing)), refreshFor(v.Refresh, imports[at].Doing)
	case imports[at].Failure.Code != "":
		lines = append(lines, p.tell(imports[at].Failure), p.Say("intake.can-take-back"))
	default:
		lines = append(lines, p.Say("intake.can-take-back"))
	}
	return &appliedView{Lines: lines, Next: linkView{Name: next, Href: intakePath}}, nil
}

// onward does something about an arrival and goes back to its page.
func (s *Server) onward(c echo.Context, do func(a arrival.Arrival, sent url.Values) error) error {
	sent, err := formUpTo(c, maxMatching)
	if err != nil {
		return err
	}
	a, err := s.arrivalOf(c)
	if err == nil {
		err = do(a, sent)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, intakePath+"/"+a.ID)
}

// maxMatching is the most that a form about the columns of files weighs, bytes.
const maxMatching = 2 << 20

// lookAgain answers POST /intake/:arrival/look.
func (s *Server) lookAgain(c echo.Context) error {
	return s.onward(c, func(a arrival.Arrival, _ url.Values) error { return s.Intake.Look(a.ID) })
}

// match answers POST /intake/:arrival/match: the columns are looked at again, or the files
// are read.
func (s *Server) match(c echo.Context) error {
	return s.onward(c, func(a arrival.Arrival, sent url.Values) error {
		decided := decidedBy(a, sent)
		if sent.Get("do") == "read" {
			return s.Intake.Read(a.ID, decided)
		}
		return s.Intake.Match(a.ID, decided)
	})
}

// applyDraft answers POST /intake/:arrival/apply.
func (s *Server) applyDraft(c echo.Context) error {
	return s.onward(c, func(a arrival.Arrival, sent url.Values) error {
		return s.Intake.Apply(a.ID, s.visitor(c).name, sent.Get("file-wins") == "yes")
	})
}

// discard answers POST /intake/:arrival/discard.
func (s *Server) discard(c echo.Context) error {
	a, err := s.arrivalOf(c)
	if err == nil {
		err = s.Intake.Discard(a.ID)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, intakePath)
}

// mappingFile answers GET /intake/:arrival/mapping.json: what is handed in with it next
// time needs no matching.
func (s *Server) mappingFile(c echo.Context) error {
	a, err := s.arrivalOf(c)
	if err != nil {
		return err
	}
	if len(a.Mapping.Tables) == 0 {
		return geo.Fail(geo.NotFound, "server.mappingFile", geo.Say("arrival.no-tables"), nil)
	}
	data, err := json.MarshalIndent(a.Mapping, "", "  ")
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Disposition", `attachment; filename="mapping.json"`)
	return c.Blob(http.StatusOK, "application/json", append(data, '\n'))
}
