package sheet

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/paulmach/orb"
)

// Ground is what a map shows around the answer.
type Ground struct {
	Bores      []MapBore
	Villages   []geo.Village
	Rivers     []geo.River
	Boundaries []geo.Boundary
}

// MapBore is a bore as a map shows it.
type MapBore struct {
	At      coord.LonLat
	Outcome geo.Outcome
}

// pixelMM is the size of a CSS pixel: 96 of them make an inch.
const pixelMM = 25.4 / 96

// Chart is a square map whose places can be read back from the picture.
type Chart struct {
	plane  coord.Plane
	view   draw.MapView
	sizeMM float64
}

// Whole charts everything that the ground holds.
//
//   - Units: px is the side of the picture in CSS pixels.
//   - Errors: [geo.TooFewData] when there is nothing to chart.
func Whole(g Ground, px int) (Chart, error) {
	places := g.places()
	if len(places) == 0 {
		return Chart{}, geo.Fail(geo.TooFewData, "sheet.Whole", geo.Say("problem.no-data"), nil)
	}
	rough := newChart(places[0], 1, px)
	box := rough.around(places)
	centre := rough.plane.LonLat(coord.XY{X: (box.MinX + box.MaxX) / 2, Y: (box.MinY + box.MaxY) / 2})
	half := max(box.MaxX-box.MinX, box.MaxY-box.MinY) / 2
	const border = 1.04 // signs at the edge stay whole
	return newChart(centre, max(border*half, leastHalfM), px), nil
}

// leastHalfM is half the side of the closest view: nearer the map would show nothing.
const leastHalfM = 250

// Near charts the surroundings of a place, halfM metres to each side.
func Near(at coord.LonLat, halfM float64, px int) Chart {
	return newChart(at, max(halfM, leastHalfM), px)
}

func newChart(centre coord.LonLat, halfM float64, px int) Chart {
	return Chart{
		plane:  coord.NewPlane(centre),
		view:   draw.MapView{MinX: -halfM, MinY: -halfM, MaxX: halfM, MaxY: halfM},
		sizeMM: float64(px) * pixelMM,
	}
}

// Place returns the place at a share of the picture from its left and upper edges.
func (c Chart) Place(fromLeft, fromTop float64) coord.LonLat {
	p := c.view.At(fromLeft, fromTop)
	return c.plane.LonLat(coord.XY{X: p.X, Y: p.Y})
}

// PixelM returns how many metres one CSS pixel covers.
func (c Chart) PixelM() float64 { return (c.view.MaxX - c.view.MinX) / c.sizeMM * pixelMM }

func (c Chart) point(p coord.LonLat) draw.Point {
	xy := c.plane.XY(p)
	return draw.Point{X: xy.X, Y: xy.Y}
}

func (c Chart) around(places []coord.LonLat) draw.MapView {
	box := draw.MapView{MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}
	for _, place := range places {
		p := c.point(place)
		box.MinX, box.MaxX = min(box.MinX, p.X), max(box.MaxX, p.X)
		box.MinY, box.MaxY = min(box.MinY, p.Y), max(box.MaxY, p.Y)
	}
	return box
}

// places lists what spans the whole map: the boundaries where there are any, else the
// bores and villages.
func (g Ground) places() []coord.LonLat {
	var out []coord.LonLat
	for _, ring := range g.rings() {
		for _, p := range ring {
			out = append(out, coord.LonLat{Lon: p[0], Lat: p[1]})
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, b := range g.Bores {
		out = append(out, b.At)
	}
	for _, v := range g.Villages {
		out = append(out, v.Position.Pos)
	}
	return out
}

func (g Ground) rings() []orb.Ring {
	var out []orb.Ring
	for _, b := range g.Boundaries {
		for _, polygon := range b.Shape {
			out = append(out, polygon...)
		}
	}
	return out
}

// Draw draws the chart as a picture without words on it but for names and scale; site
// marks the point asked about, if there is one.
func (c Chart) Draw(catalogue *say.Catalogue, l say.Lang, g Ground, site *coord.LonLat) (draw.Scene, error) {
	s := speaker{catalogue, l}
	return draw.MapPlate(c.data(g, site), c.view, c.options(s, "map-", s.Say("screen.map-alt")))
}

// Legend draws the signs of the chart.
func (c Chart) Legend(catalogue *say.Catalogue, l say.Lang, g Ground, site *coord.LonLat) (draw.Scene, error) {
	return c.legend(speaker{catalogue, l}, c.data(g, site), "legend-")
}

// legendMM is the width of a legend: so narrow that its letters stay large on a phone.
const legendMM = 66

func (c Chart) legend(s speaker, d draw.MapData, id string) (draw.Scene, error) {
	o := c.options(s, id, s.Say("drawing.legend"))
	o.WidthMM = legendMM
	return draw.MapLegend(d, o)
}

func (c Chart) options(s speaker, id, title string) draw.MapOptions {
	return draw.MapOptions{
		WidthMM: c.sizeMM, HeightMM: c.sizeMM, ID: id, Title: title, Desc: title,
		North: s.Say("drawing.north"), Words: s.drawingWords(), Distance: s.distance,
	}
}
