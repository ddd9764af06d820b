package server

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"time"

	"waterstrike/advisor/pumptest"
	"waterstrike/geo"
	"waterstrike/server/sheet"

	"github.com/labstack/echo/v4"
)

// longestTest is more than the readings of any test that goes into an address.
const longestTest = 20_000

// byHand are the values that have a field of their own, for who has a bucket or a bailer and
// a watch.
var byHand = []string{"buckets", "bailed", "hole", "pipe", "fall", "half", "quarter", "pumped", "usable"}

// testOf fits the readings of a query.
func testOf(q url.Values) (pumptest.Answer, error) {
	text := q.Get("readings")
	if len(text) > longestTest {
		return pumptest.Answer{}, geo.Fail(geo.Invalid, "server.testOf", geo.Say("pumping.too-long", geo.With("n", geo.Count(longestTest))), nil)
	}
	for _, name := range append([]string{"kind"}, byHand...) {
		if value := strings.TrimSpace(q.Get(name)); value != "" {
			text += "\n" + name + ": " + strings.ReplaceAll(value, "\n", " ") // below the rest: the lines keep their numbers
		}
	}
	test, err := pumptest.Read(text)
	if err != nil {
		return pumptest.Answer{}, err
	}
	return test.Answer()
}

// pumping answers GET /pumping: the form, and what the test says where readings are given.
func (s *Server) pumping(c echo.Context) error { return s.showPumping(c, c.QueryParams()) }

// pumpingSent answers POST /pumping, for readings too long for an address. It keeps nothing.
func (s *Server) pumpingSent(c echo.Context) error {
	sent, err := formUpTo(c, 4*longestTest) // as it is encoded
	if err != nil {
		return err
	}
	return s.showPumping(c, sent)
}

func (s *Server) showPumping(c echo.Context, q url.Values) error {
	p := s.speaker(c)
	given := strings.TrimSpace(q.Get("readings")+q.Get("buckets")+q.Get("bailed")) != ""
	form := pumpingForm(p, q)
	v := s.frame(c, p.lang)
	v.Title = p.Say("pumping.page")
	v.Choose = &chooseView{Lang: p.lang, Heading: v.Title, Why: p.Say("pumping.lead"), Form: form, Open: true}
	status := http.StatusOK
	if given {
		answer, failed := testOf(q)
		if failed != nil && !wantsPage(c) {
			return failed
		}
		if failed != nil {
			var err error
			if status, err = s.alert(c, form, failed); err != nil {
				return err
			}
			return s.show(c, status, v)
		}
		page, err := sheet.NewPumpingPage(s.Catalogue, p.lang, answer)
		if err != nil {
			return err
		}
		v.Choose.Open, v.Choose.Heading = false, p.Say("pumping.field.readings")
		v.Account = &accountView{Account: page, Lang: p.lang}
		if asked := pumpingQuery(q).Encode(); len(asked) <= maxTextQuery {
			v.Account.Data = "/pumping.json?" + asked
			v.Account.More = []linkView{{Name: p.Say("served.as-pdf"), Href: "/pumping.pdf?" + asked + "&lang=" + p.lang.String()}}
		}
	}
	return s.show(c, status, v)
}

// pumpingQuery keeps of a query what the answer depends on.
func pumpingQuery(q url.Values) url.Values {
	out := url.Values{}
	for _, name := range append([]string{"readings", "kind"}, byHand...) {
		if value := q.Get(name); value != "" {
			out.Set(name, value)
		}
	}
	return out
}

func pumpingForm(p speaker, q url.Values) *formView {
	kinds := fieldView{Type: "select", ID: "kind", Name: "kind", Label: p.Say("pumping.field.kind")}
	kinds.Choices = []choiceView{{Value: "", Name: p.Say("pumping.kind.guess"), Chosen: q.Get("kind") == ""}}
	for _, k := range pumptest.Kinds() {
		kinds.Choices = append(kinds.Choices, choiceView{Value: string(k), Name: p.Say("pumping.kind." + string(k)), Chosen: q.Get("kind") == string(k)})
	}
	hand := []fieldView{{Type: "part", Label: p.Say("pumping.part.hand"), Hint: p.Say("pumping.part.hand.hint")}}
	for _, name := range byHand {
		code := "pumping.field." + name
		hand = append(hand, fieldView{Type: "text", ID: name, Name: name, Label: p.Say(code), Hint: p.Say(code + ".hint"), Value: q.Get(name), Max: maxText, Optional: true, Complete: "off"})
	}
	return &formView{
		Action: "/pumping?lang=" + p.lang.String(), Button: p.Say("pumping.button"),
		Fields: append([]fieldView{
			{Type: "part", Label: p.Say("pumping.part.table")},
			{Type: "long", ID: "readings", Name: "readings", Label: p.Say("pumping.field.readings"), Hint: p.Say("pumping.field.readings.hint"), Value: q.Get("readings"), Max: longestTest, Rows: 14},
			kinds,
		}, hand...),
	}
}

// pumpingPDF answers GET /pumping.pdf: the test for paper, with the day that it was asked for.
func (s *Server) pumpingPDF(c echo.Context) error {
	answer, err := testOf(c.QueryParams())
	if err != nil {
		return err
	}
	day, err := s.dayOf(url.Values{})
	if err != nil {
		return err
	}
	var out bytes.Buffer
	on := time.Date(day.Year, time.Month(day.Month), day.Day, 0, 0, 0, 0, time.UTC)
	if err := sheet.PumpingPDF(&out, s.Catalogue, s.language(c), answer, on); err != nil {
		return err
	}
	return c.Blob(http.StatusOK, "application/pdf", out.Bytes())
}

// pumpingJSON answers GET /pumping.json.
func (s *Server) pumpingJSON(c echo.Context) error {
	answer, err := testOf(c.QueryParams())
	if err != nil {
		return err
	}
	body, err := json.MarshalIndent(answer, "", "  ")
	if err != nil {
		return err
	}
	return c.Blob(http.StatusOK, echo.MIMEApplicationJSON, append(body, '\n'))
}
