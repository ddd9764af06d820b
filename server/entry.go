package server

import (
	"io"
	"mime"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/say"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

// entryView is a long form that is filled in the field: it keeps what is written in the
// browser until it has arrived.
type entryView struct {
	Lang           say.Lang
	Heading, Intro string
	Action, Check  string // addresses
	Draft          string // what the browser keeps it under
	Alert          string
	Faults         []fault
	Hidden         []fieldView
	Parts          []entryPart
	Button         string
	Words          map[string]string // that scripts say
	Key            *soilKeyView
}

// entryPart is a part of the form; a folded one is opened by its heading.
type entryPart struct {
	Key, Heading, Hint string
	Folded, Open       bool
	Fields             []fieldView
	Lists              []listView
}

// partsOfBore is the form from its top.
var partsOfBore = []struct {
	key    string
	folded bool
}{
	{"where", false},
	{"how", false},
	{"layers", false},
	{"water", false},
	{"outcome", false},
	{"lining", true},
	{"test", true},
	{"samples", true},
	{"said", false},
}

// scriptWords are said by scripts of the entry form.
var scriptWords = []string{"kept", "restored", "sending", "waiting", "arrived", "refused", "anew", "lost", "out", "nowhere", "fine", "checks"}

// newBore answers GET /bores/new: an empty form, at a position where one is given. A log
// that was kept beside the hole has an id already; where its record has arrived, the page
// of that follows.
func (s *Server) newBore(c echo.Context) error {
	id, draft := c.QueryParam("id"), "new"
	if uuid.Validate(id) == nil {
		if _, err := s.Records.Bore(c.Request().Context(), geo.BoreID(id)); err == nil {
			return c.Redirect(http.StatusSeeOther, "/bores/"+id)
		}
		draft = id
	} else {
		id = string(geo.NewBoreID())
	}
	fields := url.Values{"id": {id}, "since": {"0"}, "at": {clip(c.QueryParam("at"))}, "place": {clip(c.QueryParam("place"))}}
	return s.showEntry(c, http.StatusOK, draft, fields, nil, nil)
}

// editBore answers GET /bores/:bore/edit: the form with what is known of the bore.
func (s *Server) editBore(c echo.Context) error {
	f, err := s.boreFile(c)
	if err != nil {
		return err
	}
	if f.Hidden {
		return geo.Fail(geo.Conflict, "server.editBore", geo.Say("record.hidden"), nil)
	}
	return s.showEntry(c, http.StatusOK, string(f.Bore.ID), s.fieldsOf(f.Bore, f.Seq), nil, nil)
}

// fieldsOf writes a bore into the fields of the form.
func (s *Server) fieldsOf(b geo.Bore, seq int64) url.Values {
	out := url.Values{"id": {string(b.ID)}, "since": {decimal(seq)}, "at": {positionText(b.Position)}}
	for _, cells := range boreCells(s.Trade.Methods()) {
		for _, cell := range cells {
			out.Set(cell.name, cell.get(&b))
		}
	}
	for _, lists := range boreRows() {
		for _, list := range lists {
			list.write(&b, out)
		}
	}
	return out
}

// positionText is the position as the form shows it: as it was written, where that can be
// read again.
func positionText(at geo.Opt[coord.Reading]) string {
	r, ok := at.Get()
	if !ok {
		return ""
	}
	if again, err := coord.ReadPair(r.AsRead, coord.LatLonOrder); err == nil && again.Pos == r.Pos {
		return r.AsRead
	}
	return degrees(r.Pos.Lat) + " " + degrees(r.Pos.Lon)
}

// showEntry shows the form of a bore with what was written in it.
func (s *Server) showEntry(c echo.Context, status int, draft string, sent url.Values, faults []fault, failed error) error {
	p := s.speaker(c)
	e := &entryView{
		Heading: p.Say("entry.new"), Intro: p.Say("entry.intro"), Action: "/bores", Check: "/bores/check", Draft: "bore " + draft,
		Faults: faults, Parts: s.entryParts(p, sent), Key: newSoilKey(p),
	}
	if sent.Get("since") != "0" {
		e.Heading = p.Say("entry.edit", say.With("bore", say.Text(firstOf(sent.Get("code"), sent.Get("name"), sent.Get("place"), sent.Get("id")))))
	}
	return s.showForm(c, status, e, sent, failed)
}

// showForm shows a long form, and what was wrong about what was sent.
func (s *Server) showForm(c echo.Context, status int, e *entryView, sent url.Values, failed error) error {
	p := s.speaker(c)
	e.Lang, e.Button, e.Words = p.lang, p.Say("entry.save"), map[string]string{}
	for _, name := range []string{"id", "since"} {
		e.Hidden = append(e.Hidden, fieldView{Type: "hidden", Name: name, Value: sent.Get(name)})
	}
	for _, word := range scriptWords {
		e.Words[word] = p.Say("entry.say." + word)
	}
	if failed != nil {
		told := failureOf(failed)
		if status = told.status; status >= http.StatusInternalServerError {
			return failed
		}
		e.Alert = p.tell(told.message)
	}
	v := s.ownFrame(c)
	v.Title, v.Entry = e.Heading, e
	return s.show(c, status, v)
}

func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return clip(t)
		}
	}
	return ""
}

func (s *Server) entryParts(p speaker, sent url.Values) []entryPart {
	cells, lists := boreCells(s.Trade.Methods()), boreRows()
	var out []entryPart
	for _, part := range partsOfBore {
		e := entryPart{Key: part.key, Heading: p.Say("entry.part." + part.key), Folded: part.folded}
		if hint := "entry.part." + part.key + ".hint"; s.Catalogue.Has(hint) {
			e.Hint = p.Say(hint)
		}
		for _, c := range cells[part.key] {
			e.Fields = append(e.Fields, fieldOf(p, "bore", "", c, sent))
		}
		if part.key == "where" {
			e.Fields = append(e.Fields, p.positionField(sent))
		}
		for _, l := range lists[part.key] {
			list := l.view(p, sent)
			e.Open = e.Open || len(list.Rows) > 0
			e.Lists = append(e.Lists, list)
		}
		if part.key == "said" && sent.Get("since") != "0" {
			e.Fields = append(e.Fields, p.whyField(sent))
		}
		out = append(out, e)
	}
	return out
}

// readForm reads the fields of a long form, and its bytes as they came.
func readForm(c echo.Context) (body []byte, sent url.Values, err error) {
	r := c.Request()
	body, err = io.ReadAll(http.MaxBytesReader(c.Response(), r.Body, maxLog))
	if err != nil {
		return nil, nil, unread(err)
	}
	if sent, err = url.ParseQuery(string(body)); err != nil {
		return nil, nil, badForm(err)
	}
	return body, sent, nil
}

// isForm tells whether a body is that of a form.
func isForm(r *http.Request) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	return err == nil && kind == echo.MIMEApplicationForm
}

// boreOf reads the form of a bore. What the form does not ask of a bore that is known
// stays as it was.
func (s *Server) boreOf(c echo.Context, sent url.Values) (sentBore, []fault, error) {
	p, id := s.speaker(c), sent.Get("id")
	since, err := strconv.ParseInt(sent.Get("since"), 10, 64)
	if err != nil || uuid.Validate(id) != nil {
		return sentBore{}, nil, badForm(err)
	}
	old, err := s.Records.Bore(c.Request().Context(), geo.BoreID(id))
	if err != nil && geo.KindOf(err) != geo.NotFound {
		return sentBore{}, nil, err
	}
	if since == 0 {
		old = geo.Bore{}
	}
	b := old
	b.ID = geo.BoreID(id)
	var faults []fault
	cells, lists := boreCells(s.Trade.Methods()), boreRows()
	for _, part := range partsOfBore {
		faults = append(faults, takeAll(p, "bore", "", cells[part.key], sent, &b)...)
		for _, l := range lists[part.key] {
			faults = append(faults, l.read(p, sent, &old, &b)...)
		}
	}
	if wrong := placed(&b.Position, sent.Get("at")); wrong != nil {
		faults = append(faults, fault{"at", p.Say("bore.position"), p.tell(failureOf(wrong).message)})
	}
	s.matchVillage(c, &b)
	return sentBore{Bore: b, Since: since, Why: sent.Get("why")}, faults, nil
}

// placed reads the position of a form; one that is as it was stays as it was read then.
func placed(at *geo.Opt[coord.Reading], text string) error {
	if text = strings.TrimSpace(text); text == positionText(*at) {
		return nil
	}
	*at = geo.Opt[coord.Reading]{}
	if text == "" {
		return nil
	}
	r, err := coord.ReadPair(text, coord.LatLonOrder)
	if err != nil {
		return unreadable(err, text)
	}
	*at = geo.Some(r)
	return nil
}

// matchVillage notes the village where its name is the place that was written.
func (s *Server) matchVillage(c echo.Context, b *geo.Bore) {
	if b.VillageID != "" || b.Place == "" {
		return
	}
	if all, err := s.Ground.Villages(c.Request().Context()); err == nil {
		if same, _ := matching(all, b.Place); len(same) == 1 {
			b.VillageID = same[0].ID
		}
	}
}

// faultsError is a form with fields that cannot be read.
type faultsError struct{ faults []fault }

func (e *faultsError) Error() string { return "server: a form with faults" }

// message tells the first of them.
func (e *faultsError) message() geo.Message {
	return geo.Say("entry.faulty", geo.With("n", geo.Count(len(e.faults))), geo.With("value", geo.Text(e.faults[0].Words)))
}
