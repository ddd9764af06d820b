package server

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/server/tile"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
	"github.com/paulmach/orb"
)

// pageRows is how many rows a page of a list has.
const pageRows = 50

// The lists that there are.
const (
	listBores    = "bores"
	listVillages = "villages"
	listPoints   = "points"
	listOutlines = "boundaries"
	listRivers   = "rivers"
	listRoads    = "roads"
	listMarks    = "marks"
)

// listingView is everything on the map as a list.
type listingView struct {
	Lang         say.Lang
	Heading      string
	Kinds        []pageView // the lists that there are
	Meant        *meantView // which bores are meant; nil for other lists
	Box, BoxNote string     // the part of the map that is meant, and how to leave it
	BoxOff       linkView
	Summary      string
	Columns      []string
	Rows         []listingRow
	Pages        []linkView // to the former and the next
	Map          linkView
	Unlisted     string    // why what else the map shows has no list
	Sheets       *linkView // the advices of the rows as one document; nil where rows are bores
}

// listingRow is one thing. The name of a bore leads to its record, any other to the advice
// at its place.
type listingRow struct {
	Name, Href string
	Advice     string // address of the advice beside a record; empty for no matter
	Sign       string
	Cells      []sheet.Cell
}

// list answers GET /list.
func (s *Server) list(c echo.Context) error {
	p, q := s.speaker(c), c.QueryParams()
	from, err := startOf(q)
	if err != nil {
		return err
	}
	box, err := boxOf(q)
	if err != nil {
		return err
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	if unchanged(c, s.pageTag(c, "list", state)) {
		return notModified(c)
	}
	v := s.frame(c, p.lang)
	v.List = &listingView{Lang: p.lang, Heading: p.Say("map.list"), Box: q.Get(fieldBox)}
	v.Title = v.List.Heading
	total, err := s.fill(c, p, v.List, box, from)
	if err != nil {
		return err
	}
	p.around(v.List, q, from, total)
	if s.Atlas.Relief() != nil {
		v.List.Unlisted = p.Say("map.no-list")
	}
	return s.show(c, http.StatusOK, v)
}

// startOf reads the number of the first row, from 0.
func startOf(q url.Values) (int, error) {
	text := q.Get("page")
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1_000_000 {
		return 0, badParameter("page", text)
	}
	return (n - 1) * pageRows, nil
}

// fill puts the rows of a page into a list, and returns how many there are in all.
func (s *Server) fill(c echo.Context, p speaker, v *listingView, box orb.Bound, from int) (total int, err error) {
	places, err := s.Atlas.Places(c.Request().Context())
	if err != nil {
		return 0, err
	}
	v.Kinds = p.lists(c.QueryParams(), places)
	if text := strings.TrimSpace(c.QueryParam("q")); text != "" {
		return s.foundRows(c, p, v, text)
	}
	switch of := c.QueryParam("of"); of {
	case listVillages:
		return p.villageRows(v, places, box, from), nil
	case listPoints:
		return p.pointRows(v, places, box, from), nil
	case listOutlines, listRivers, listRoads:
		return p.lineRows(v, of, linesOf(places, of), box, from), nil
	case listMarks:
		return p.markRows(v, places, box, from), nil
	case listBores, "":
		return s.boreRows(c, p, v, box, from)
	default:
		return 0, badParameter("of", of)
	}
}

func (s *Server) boreRows(c echo.Context, p speaker, v *listingView, box orb.Bound, from int) (total int, err error) {
	f, err := boresMeant(c.QueryParams())
	if err != nil {
		return 0, err
	}
	all, err := s.Atlas.Arranged(c.Request().Context())
	if err != nil {
		return 0, err
	}
	v.Meant = p.meant(c.QueryParams(), all, f)
	v.Columns = p.words("map.bore", "map.outcome", "map.method", "map.when", "map.drilled", "map.water-level", "map.place")
	page, total := all.List(f, box, from, pageRows)
	for _, b := range page {
		v.Rows = append(v.Rows, p.boreRow(b, v.Columns))
	}
	return total, nil
}

func (s speaker) words(codes ...string) []string {
	out := make([]string, len(codes))
	for i, code := range codes {
		out[i] = s.Say(code)
	}
	return out
}

func (s speaker) boreRow(b *evidence.Bore, columns []string) listingRow {
	date := s.Say("sheet.undated")
	if b.Completed.Year != 0 {
		date = s.tell(geo.Say("value.date", geo.With("date", b.Completed)))
	}
	return listingRow{
		Name: b.Label, Href: "/bores/" + url.PathEscape(string(b.ID)) + "?lang=" + s.lang.String(),
		Advice: s.adviceAt(b.Pos.Lat, b.Pos.Lon), Sign: string(b.Outcome),
		Cells: cells(columns[1:], s.Say("outcome."+string(b.Outcome)), s.method(b.Method), date, s.metresOr(b.DepthM), s.rest(b), s.place(b.Pos)),
	}
}

func (s speaker) adviceAt(lat, lon float64) string {
	return "/advice?" + url.Values{"lat": {degrees(lat)}, "lon": {degrees(lon)}, "lang": {s.lang.String()}}.Encode()
}

// method names a method; one of a programme's own goes by its code.
func (s speaker) method(m geo.Method) string {
	if code := "method." + string(m); s.catalogue.Has(code) {
		return s.Say(code)
	}
	return string(m)
}

func (s speaker) metresOr(m geo.Opt[float64]) string {
	if v, known := m.Get(); known {
		return s.Say("value.depth", say.With("depth", say.Metres(v)))
	}
	return s.Say("bore.not-written")
}

// rest says what a bore tells of its water level.
func (s speaker) rest(b *evidence.Bore) string {
	if len(b.Levels) == 0 {
		return s.Say("bore.not-written")
	}
	switch l := b.Levels[0]; l.State {
	case geo.LevelFlowing:
		return s.Say("sheet.flows")
	case geo.LevelDryTo:
		return s.Say("map.dry-to", say.With("depth", say.Metres(float64(l.DepthM))))
	default:
		return s.Say("value.depth", say.With("depth", say.Metres(float64(l.DepthM))))
	}
}

func cells(columns []string, words ...string) []sheet.Cell {
	out := make([]sheet.Cell, len(words))
	for i := range words {
		out[i] = sheet.Cell{Label: columns[i], Words: words[i]}
	}
	return out
}

// lists names the lists that there are; a part of the map stays the same from one to the
// next. Those that most regions lack are named where they hold something.
func (s speaker) lists(q url.Values, places *tile.Places) (out []pageView) {
	now := q.Get("of")
	if now == "" && q.Get("q") == "" {
		now = listBores
	}
	for _, of := range []string{listBores, listVillages, listPoints, listOutlines, listRivers, listRoads, listMarks} {
		if of != now && (of == listMarks && len(places.Marks) == 0 || of == listRoads && len(places.Roads) == 0) {
			continue
		}
		next := url.Values{"of": {of}, "lang": {s.lang.String()}}
		if q.Get(fieldBox) != "" {
			next.Set(fieldBox, q.Get(fieldBox))
		}
		out = append(out, pageView{s.Say("map.layer." + of), "/list?" + next.Encode(), of == now})
	}
	return out
}

// around says how much there is, and links what lies before and after.
func (s speaker) around(v *listingView, q url.Values, from, total int) {
	to := min(from+len(v.Rows), total)
	v.Summary = s.Say("map.rows-none", say.With("total", say.Count(total)))
	if len(v.Rows) > 0 {
		v.Summary = s.Say("map.rows", say.With("n", say.Count(from+1)), say.With("listed", say.Count(to)), say.With("total", say.Count(total)))
	}
	link := func(code string, page int) {
		next := url.Values{}
		for name, values := range q {
			next[name] = values
		}
		next.Set("page", strconv.Itoa(page))
		v.Pages = append(v.Pages, linkView{Name: s.Say(code), Href: "/list?" + next.Encode()})
	}
	if from > 0 {
		link("map.former", from/pageRows)
	}
	if to < total {
		link("map.next", from/pageRows+2)
	}
	if v.Box != "" {
		whole := url.Values{}
		for name, values := range q {
			if name != fieldBox && name != "page" {
				whole[name] = values
			}
		}
		v.BoxNote, v.BoxOff = s.Say("map.in-box"), linkView{Name: s.Say("map.everywhere"), Href: "/list?" + whole.Encode()}
	}
	v.Map = linkView{Name: s.Say("map.to-map"), Href: "/map?" + mapQuery(q, s.lang).Encode()}
}
