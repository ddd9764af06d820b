package server

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/server/tile"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
	"github.com/paulmach/orb"
)

// atlasView is the map page.
type atlasView struct {
	Lang           say.Lang
	Heading        string
	Extent         string // of the region: west,south,east,north in degrees
	Relief         string // of the land whose shape is known; empty where it is not
	Layers         []layerView
	Surfaces       []choiceView // what can be shown over the land; empty where nothing is worked out
	SurfaceMethods []choiceView // by which a chance or a refusal is meant
	Ages           []ageView
	Aged           bool
	Meant          *meantView
	List           linkView
	Credits        []string // whose charts these are
	Around         string   // the picture shown without scripts
}

// layerView is one layer that can be shown or not, with its sign.
type layerView struct {
	Key, Name, Sign string
	Chosen          bool
	Chart           *chartView
}

// chartView says where a chart is and how near it goes.
type chartView struct {
	Number, Least, Most int
	Extent              string
}

// ageView is how bores of some age are drawn.
type ageView struct {
	Row  int
	Name string
}

// atlas answers GET /map.
func (s *Server) atlas(c echo.Context) error {
	p, ctx := s.speaker(c), c.Request().Context()
	f, err := boresMeant(c.QueryParams())
	if err != nil {
		return err
	}
	bores, err := s.Atlas.Arranged(ctx)
	if err != nil {
		return err
	}
	places, err := s.Atlas.Places(ctx)
	if err != nil {
		return err
	}
	state, err := s.Ground.State(ctx)
	if err != nil {
		return err
	}
	relief := s.Atlas.Relief()
	if unchanged(c, s.pageTag(c, "atlas", state, strconv.FormatBool(relief != nil))) {
		return notModified(c)
	}
	v := s.frame(c, p.lang)
	v.Wide = true
	v.Atlas = &atlasView{
		Lang: p.lang, Heading: p.Say("map.map"), Extent: boxText(regionOf(bores, places)), Ages: p.ages(),
		Aged: c.QueryParam("age") == "yes", Meant: p.meant(c.QueryParams(), bores, f), Around: "/map.svg?px=560&lang=" + p.lang.String(),
		List: linkView{Name: p.Say("map.as-list"), Href: "/list?" + mapQuery(c.QueryParams(), p.lang).Encode()},
	}
	v.Title = v.Atlas.Heading
	if _, there := s.rights["GET /surface.json"]; there {
		v.Atlas.Surfaces, v.Atlas.SurfaceMethods = p.surfaces(), p.surfaceMethods(s.Surveyor.SurfaceMethods())
	}
	if relief != nil {
		v.Atlas.Relief = boxText(relief.Bound())
	}
	v.Atlas.Layers, v.Atlas.Credits = p.layers(v.Atlas.Relief != "", places, s.Atlas.Charts())
	return s.show(c, 200, v)
}

// regionOf is what the map shows at first: the outlines where there are any, else all
// bores and villages.
func regionOf(bores *tile.Bores, places *tile.Places) orb.Bound {
	var shape orb.Collection
	for _, b := range places.Boundaries {
		shape = append(shape, b.Shape)
	}
	if len(shape) > 0 {
		return shape.Bound()
	}
	box := bores.Bound()
	for _, v := range places.Villages {
		box = box.Extend(v.Position.Pos.Point())
	}
	if box.IsEmpty() {
		return world
	}
	return box.Pad(0.01)
}

func boxText(b orb.Bound) string {
	return strings.Join([]string{degrees(b.Min[0]), degrees(b.Min[1]), degrees(b.Max[0]), degrees(b.Max[1])}, ",")
}

// layers lists the layers with those that are usually shown chosen; charts lie at the
// bottom.
func (s speaker) layers(relief bool, places *tile.Places, charts []Chart) (out []layerView, credits []string) {
	for _, l := range []layerView{
		{Key: "bores", Sign: "producing", Chosen: true},
		{Key: "villages", Sign: draw.VillageSign, Chosen: true},
		{Key: "points", Sign: draw.PointWorks, Chosen: true},
		{Key: "boundaries", Sign: "line-boundaries", Chosen: true},
		{Key: "rivers", Sign: "line-rivers", Chosen: true},
		{Key: "streams", Sign: "line-streams", Chosen: true},
		{Key: "roads", Sign: "line-roads", Chosen: true},
		{Key: "marks", Sign: "line-marks", Chosen: true},
		{Key: "shade", Sign: "line-shade", Chosen: true},
		{Key: "contours", Sign: "line-contours"},
	} {
		if l.Key == "roads" && len(places.Roads) == 0 || l.Key == "marks" && len(places.Marks) == 0 {
			continue
		}
		if !relief && slices.Contains([]string{"streams", "shade", "contours"}, l.Key) {
			continue
		}
		l.Name = s.Say("map.layer." + l.Key)
		out = append(out, l)
	}
	for i, c := range charts {
		out = append(out, layerView{
			Key: "chart-" + strconv.Itoa(i), Name: c.Name, Sign: "line-chart",
			Chart: &chartView{i, c.Least, c.Most, boxText(c.Bound)},
		})
		if c.Attribution != "" {
			credits = append(credits, c.Name+": "+c.Attribution)
		}
	}
	return out, credits
}

// surfaces lists what can be shown over the land, nothing first.
func (s speaker) surfaces() []choiceView {
	out := []choiceView{{Name: s.Say("map.no-surface")}}
	for _, of := range []string{"chance", "design-low", "refusal", "evidence"} {
		out = append(out, choiceView{Value: of, Name: s.Say("surface." + of)})
	}
	return out
}

// surfaceMethods offers the best method of each place, and each by itself.
func (s speaker) surfaceMethods(methods []geo.Method) []choiceView {
	out := []choiceView{{Name: s.Say("map.best-method")}}
	for _, m := range methods {
		out = append(out, choiceView{Value: string(m), Name: s.method(m)})
	}
	return out
}

func (s speaker) ages() (out []ageView) {
	for i, code := range []string{"map.age.new", "map.age.some", "map.age.old", "map.age.oldest", "map.age.unknown"} {
		out = append(out, ageView{i + 1, s.Say(code)})
	}
	return out
}

// mapQuery keeps of a question for a list what the map reads too.
func mapQuery(q url.Values, l say.Lang) url.Values {
	out := url.Values{"lang": {l.String()}}
	for _, field := range []string{fieldOutcome, fieldMethod, fieldFromYear, fieldToYear, fieldLeastM, fieldMostM, fieldBox} {
		if values := given(q, field); len(values) > 0 {
			out[field] = slices.Clone(values)
		}
	}
	return out
}
