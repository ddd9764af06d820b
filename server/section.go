package server

import (
	"context"
	"html/template"
	"net/url"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// How much of the ground a section shows.
const (
	sectionAsideM = 1500
	sectionDeepM  = 40
	sectionMostM  = 200_000 // longer lines tell nothing of what lies between
)

// sectionView is a section along a line: drawn, and as a list.
type sectionView struct {
	Lang     say.Lang
	Heading  string
	From, To string // as asked
	MaxText  int
	Wide     template.HTML // the drawing
	Slim     template.HTML // for a phone
	Facts    sheet.Table
	Bores    sheet.Table
	Map      linkView
	Lead     string
	Alert    string // what is wrong with the line that was asked for
}

// ends reads the two ends of a line; ok is false when none is given.
func ends(q url.Values) (from, to coord.LonLat, ok bool, err error) {
	var at [2]coord.LonLat
	for i, field := range []string{"a", "b"} {
		text := q.Get(field)
		if text == "" && i == 0 && q.Get("b") == "" {
			return from, to, false, nil
		}
		r, err := coord.ReadPair(text, coord.LatLonOrder)
		if err != nil || len(text) > 4*maxText {
			return from, to, true, unreadable(err, text)
		}
		at[i] = r.Pos
	}
	switch m := coord.DistanceM(at[0], at[1]); {
	case !(m >= 1):
		return from, to, true, geo.Fail(geo.Invalid, "server.ends", geo.Say("section.no-length"), nil)
	case m > sectionMostM:
		return from, to, true, geo.Fail(geo.Invalid, "server.ends", geo.Say("map.section-too-long", geo.With("distance", geo.DistanceM(sectionMostM))), nil)
	}
	return at[0], at[1], true, nil
}

// along asks along a line, within the time that a person waits.
func (s *Server) along(c echo.Context, from, to coord.LonLat) (sheet.Line, error) {
	ctx, cancel := context.WithTimeout(c.Request().Context(), answerTimeout)
	defer cancel()
	return s.Atlas.Along(ctx, from, to, sectionAsideM, sectionDeepM)
}

// section answers GET /section: the form, and the section where a line is given.
func (s *Server) section(c echo.Context) error {
	p, q := s.speaker(c), c.QueryParams()
	from, to, given, wrong := ends(q)
	if wrong != nil && !forPeople(c.Request()) {
		return wrong
	}
	v := s.frame(c, p.lang)
	v.Section = &sectionView{Lang: p.lang, Heading: p.Say("map.section"), From: clip(q.Get("a")), To: clip(q.Get("b")), MaxText: maxText}
	v.Title = v.Section.Heading
	v.Section.Lead = p.Say("map.section-lead", say.With("distance", say.Distance(sectionAsideM)))
	v.Section.Map = linkView{Name: p.Say("map.to-map"), Href: "/map?lang=" + p.lang.String()}
	if wrong != nil {
		f := failureOf(wrong)
		v.Section.Alert = p.tell(f.message)
		return s.show(c, f.status, v)
	}
	if !given {
		return s.show(c, 200, v)
	}
	line, err := s.along(c, from, to)
	if err != nil {
		return err
	}
	for to, slim := range map[*template.HTML]bool{&v.Section.Wide: false, &v.Section.Slim: true} {
		scene, err := sheet.LineSection(s.Catalogue, p.lang, line, slim)
		if err != nil {
			return err
		}
		if *to, err = inPage(scene); err != nil {
			return err
		}
	}
	v.Section.Facts, v.Section.Bores = p.stations(line), p.beside(line)
	v.Section.Map.Href = "/map?" + url.Values{"lang": {p.lang.String()}, "line": {plain(from) + "," + plain(to)}}.Encode()
	return s.show(c, 200, v)
}

// stations lists what is expected along a line.
func (s speaker) stations(line sheet.Line) sheet.Table {
	t := sheet.Table{Heading: s.Say("map.stations"), Columns: s.words("map.along", "map.ground", "sheet.level.low-in-ten", "chance.column.range")}
	for _, st := range line.Stations {
		low, span := s.Say("sheet.not-read"), ""
		if st.Water != nil {
			d := st.Water.DesignLow
			low = s.Say("value.depth", say.With("depth", say.Metres(d.P50)))
			span = s.Say("value.depth", say.With("depth", say.MetresRange(d.P10, d.P90)))
		}
		t.Rows = append(t.Rows, cells(t.Columns,
			s.Say("value.distance", say.With("distance", say.Distance(st.AlongM))),
			s.Say("value.depth", say.With("depth", say.Metres(st.GroundM))), low, span))
	}
	return t
}

// beside lists every bore beside a line, also those whose name had no room in the drawing.
func (s speaker) beside(line sheet.Line) sheet.Table {
	t := sheet.Table{Heading: s.Say("map.beside"), Columns: s.words("map.bore", "map.along", "map.aside", "map.outcome", "map.drilled")}
	for _, b := range line.Beside() {
		row := cells(t.Columns, b.Bore.Label(), s.Say("value.distance", say.With("distance", say.Distance(b.AlongM))),
			s.Say("value.distance", say.With("distance", say.Distance(b.AsideM))), s.Say("outcome."+string(b.Bore.Outcome)), s.metresOr(b.Bore.DepthM))
		row[0].Href = "/bores/" + url.PathEscape(string(b.Bore.ID)) + "?lang=" + s.lang.String()
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		t.Missing = s.Say("map.none-beside")
	}
	return t
}

// sectionPicture answers GET /section.svg.
func (s *Server) sectionPicture(c echo.Context) error {
	from, to, given, err := ends(c.QueryParams())
	if err != nil {
		return err
	}
	if !given {
		return geo.Fail(geo.Invalid, "server.sectionPicture", geo.Say("problem.no-position"), nil)
	}
	state, err := s.Ground.State(c.Request().Context())
	if err != nil {
		return err
	}
	l := s.language(c)
	if unchanged(c, tag("section", state, s.Version, l.String(), c.Request().URL.RawQuery)) {
		return notModified(c)
	}
	line, err := s.along(c, from, to)
	if err != nil {
		return err
	}
	scene, err := sheet.LineSection(s.Catalogue, l, line, c.QueryParam("slim") != "")
	if err != nil {
		return err
	}
	return sendScene(c, scene)
}
