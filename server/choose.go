package server

import (
	"bytes"
	"context"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/advisor"
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// Seasons chooses villages and accounts for what was achieved.
type Seasons interface {
	// Standards lists the standards of service, the usual one first.
	Standards() ([]coverage.Standard, error)
	// Choose is [season.Choose] over the present records. It takes a minute or more.
	Choose(ctx context.Context, w season.Wishes, progress advisor.Progress) (*season.Season, error)
	// Account is [season.Report] over the present records.
	Account(ctx context.Context, q season.AccountAsk) (*season.Account, error)
}

// choosing are the parameters of /choose that the answer depends on.
func choosing() []string {
	return []string{"budget", "weeks", "standard", "on", "per-bore", "per-metre", "per-km", "floors", "must", "never", "care", "tested", "reserve", "seed"}
}

// choose answers GET /choose: the form, how far the work is, or the programme.
func (s *Server) choose(c echo.Context) error {
	p, q := s.speaker(c), chosen(c.QueryParams())
	v := s.frame(c, p.lang)
	v.Title = p.Say("season.page")
	if q.Get("budget") == "" && q.Get("weeks") == "" {
		form, err := s.chooseForm(p, q, "")
		v.Choose = &chooseView{Lang: p.lang, Heading: p.Say("season.ask"), Why: p.Say("season.ask.why"), Form: form, Open: true}
		return errorOr(err, func() error { return s.show(c, http.StatusOK, v) })
	}
	work, err := s.chosenSeason(c, p, q)
	if err == nil {
		err = work.failure
	}
	if err != nil {
		return s.chooseAgain(c, p, q, v, err)
	}
	if !work.ended {
		v.Working, v.Refresh = s.choosingView(p, work), lookAgain
		v.Choose = &chooseView{Lang: p.lang, Stop: &formView{Action: "/choose/stop", Button: p.Say("season.stop"), Fields: hidden(q)}}
		return s.show(c, http.StatusOK, v)
	}
	form, err := s.chooseForm(p, q, "")
	if err != nil {
		return err
	}
	page, err := sheet.NewSeasonPage(s.Catalogue, p.lang, work.result)
	if err != nil {
		return err
	}
	v.Account = &accountView{Account: page, Lang: p.lang, Data: "/choose.json?" + q.Encode()}
	spoken := q.Encode() + "&lang=" + p.lang.String()
	v.Account.More = []linkView{{Name: p.Say("served.as-pdf"), Href: "/choose.pdf?" + spoken}, {Name: p.Say("season.as-table"), Href: "/choose.csv?" + spoken}}
	v.Choose = &chooseView{Lang: p.lang, Heading: p.Say("season.ask.again"), Form: form}
	return s.show(c, http.StatusOK, v)
}

// chooseAgain tells what is wrong with the wishes above the form that they came from.
func (s *Server) chooseAgain(c echo.Context, p speaker, q url.Values, v view, cause error) error {
	f := failureOf(cause)
	if f.status >= http.StatusInternalServerError || wantsJSON(c.Request()) {
		return cause
	}
	form, err := s.chooseForm(p, q, p.tell(f.message))
	v.Choose = &chooseView{Lang: p.lang, Heading: p.Say("season.ask"), Why: p.Say("season.ask.why"), Form: form, Open: true}
	return errorOr(err, func() error { return s.show(c, f.status, v) })
}

func errorOr(err error, next func() error) error {
	if err != nil {
		return err
	}
	return next()
}

// choosingView says how far the work is.
func (s *Server) choosingView(p speaker, work errand[*season.Season]) *workingView {
	v := &workingView{Heading: p.Say("season.working"), Words: p.Say("season.working.why"), Done: p.Say("season.working.begin"), Asked: work.done, Total: work.total}
	if work.total > 0 {
		v.Done = p.Say("season.progress", say.With("n", say.Count(work.done)), say.With("total", say.Count(work.total)))
	}
	return v
}

// chosen keeps of a query what the answer depends on.
func chosen(q url.Values) url.Values {
	out := url.Values{}
	for _, name := range choosing() {
		if text := strings.TrimSpace(q.Get(name)); text != "" {
			out.Set(name, text)
		}
	}
	return out
}

func hidden(q url.Values) (out []fieldView) {
	for _, name := range choosing() {
		if q.Has(name) {
			out = append(out, fieldView{Type: "hidden", Name: name, Value: q.Get(name)})
		}
	}
	return out
}

// chosenSeason returns the work on a season, begun where it was not.
func (s *Server) chosenSeason(c echo.Context, p speaker, q url.Values) (errand[*season.Season], error) {
	w, err := s.wishes(p, q)
	if err != nil {
		return errand[*season.Season]{}, err
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return errand[*season.Season]{}, err
	}
	return s.seasons.look(s.life, seasonKey(state, q), func(ctx context.Context, progress func(done, total int)) (*season.Season, error) {
		return s.Seasons.Choose(ctx, w, progress)
	})
}

func seasonKey(state string, q url.Values) string { return state + "?" + q.Encode() }

// stopChoosing answers POST /choose/stop.
func (s *Server) stopChoosing(c echo.Context) error {
	values, err := form(c)
	if err != nil {
		return err
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	s.seasons.end(seasonKey(state, chosen(values)))
	return c.Redirect(http.StatusSeeOther, "/choose")
}

// wishes reads what a planner asks for.
func (s *Server) wishes(p speaker, q url.Values) (w season.Wishes, err error) {
	w = season.DefaultWishes()
	list, err := s.Seasons.Standards()
	if err != nil {
		return w, err
	}
	if w.Standard, err = season.Standard(list, q.Get("standard")); err != nil {
		return w, err
	}
	if w.On, err = s.dayOf(q); err != nil {
		return w, err
	}
	if w.Windows, err = season.ParseWindows(q.Get("weeks")); err != nil {
		return w, err
	}
	if w.Floors, err = season.ParseFloors(q.Get("floors"), p.meansPeople); err != nil {
		return w, err
	}
	w.Must, w.Never = season.ParseList(q.Get("must")), season.ParseList(q.Get("never"))
	w.Tested, w.Reserve = q.Get("tested") != "", q.Get("reserve") != ""
	care := 0.0
	perBore, perMetre := -1.0, -1.0
	for _, n := range []struct {
		name, label string
		to          *float64
	}{
		{"budget", "season.field.budget", &w.Budget},
		{"per-bore", "season.field.bore", &perBore},
		{"per-metre", "season.field.metre", &perMetre},
		{"per-km", "season.field.km", &w.PerKM},
		{"care", "season.field.care", &care},
	} {
		if err := amount(q, n.name, p.Say(n.label), n.to); err != nil {
			return w, err
		}
	}
	w.Caution = care / 100
	if q.Has("per-bore") {
		w.PerBore = geo.Some(perBore)
	}
	if q.Has("per-metre") {
		w.PerMetre = geo.Some(perMetre)
	}
	w.Seed, err = seed(q)
	return w, err
}

// amount reads a number that was given; a comma may stand for the point.
func amount(q url.Values, name, label string, to *float64) error {
	if !q.Has(name) {
		return nil
	}
	v, err := season.ParseAmount(label, clip(q.Get(name)))
	*to = v
	return err
}

// dayOf reads the day of a count: today when not given.
func (s *Server) dayOf(q url.Values) (geo.Date, error) {
	return season.ParsePast(clip(q.Get("on")), geo.DateOf(s.Now()))
}

// meansPeople tells whether a word means people in one of the languages.
func (p speaker) meansPeople(word string) bool {
	return slices.ContainsFunc(say.Langs(), func(l say.Lang) bool {
		return strings.EqualFold(word, p.catalogue.Say(l, say.Msg("season.people-word")))
	})
}

// chooseJSON answers GET /choose.json: the season, or 202 with how far it is.
func (s *Server) chooseJSON(c echo.Context) error {
	return s.chooseData(c, echo.MIMEApplicationJSON, func(_ say.Lang, x *season.Season) ([]byte, error) { return sheet.SeasonJSON(x) })
}

// chooseCSV answers GET /choose.csv likewise.
func (s *Server) chooseCSV(c echo.Context) error {
	return s.chooseData(c, "text/csv; charset=utf-8", func(l say.Lang, x *season.Season) ([]byte, error) {
		var out bytes.Buffer
		err := sheet.SeasonCSV(&out, s.Catalogue, l, x)
		return out.Bytes(), err
	})
}

// choosePDF answers GET /choose.pdf likewise.
func (s *Server) choosePDF(c echo.Context) error {
	return s.chooseData(c, "application/pdf", func(l say.Lang, x *season.Season) ([]byte, error) {
		var out bytes.Buffer
		err := sheet.SeasonPDF(&out, s.Catalogue, l, x)
		return out.Bytes(), err
	})
}

func (s *Server) chooseData(c echo.Context, kind string, write func(say.Lang, *season.Season) ([]byte, error)) error {
	p, q := s.speaker(c), chosen(c.QueryParams())
	work, err := s.chosenSeason(c, p, q)
	if err == nil {
		err = work.failure
	}
	if err != nil {
		return err
	}
	if !work.ended {
		c.Response().Header().Set("Retry-After", strconv.Itoa(lookAgain))
		return c.JSON(http.StatusAccepted, map[string]int{"asked": work.done, "total": work.total})
	}
	body, err := write(p.lang, work.result)
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, kind, body)
}
