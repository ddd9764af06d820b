package sheet

import (
	"waterstrike/geo/coord"
	"waterstrike/ui/draw"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
)

// data gathers what of the ground lies in the chart's view.
func (c Chart) data(g Ground, site *coord.LonLat) draw.MapData {
	var d draw.MapData
	for _, b := range g.Bores {
		if at := c.point(b.At); c.view.Has(at) {
			d.Bores = append(d.Bores, draw.MapBore{At: at, Outcome: string(b.Outcome)})
		}
	}
	d.Villages = c.villages(g)
	for _, r := range g.Rivers {
		if line := c.line(r.Line); len(line) > 1 {
			d.Rivers = append(d.Rivers, line)
		}
	}
	for _, ring := range g.rings() {
		if line := c.line(orb.LineString(ring)); len(line) > 2 {
			d.Boundary = append(d.Boundary, line)
		}
	}
	if site != nil {
		if at := c.point(*site); c.view.Has(at) {
			d.Site = &at
		}
	}
	return d
}

// line projects a line and drops the points that are nearer than a fifth of a millimetre
// of the picture to the one before. A line that does not cross the view is left out.
func (c Chart) line(in orb.LineString) []draw.Point {
	least := c.view.MaxX / c.sizeMM * 0.4
	var out []draw.Point
	path := make(orb.LineString, len(in))
	for i, p := range in {
		at := c.point(coord.LonLat{Lon: p[0], Lat: p[1]})
		path[i] = orb.Point{at.X, at.Y}
		if n := len(out); n > 0 && i < len(in)-1 && near(out[n-1], at, least) {
			continue
		}
		out = append(out, at)
	}
	view := orb.Bound{Min: orb.Point{c.view.MinX, c.view.MinY}, Max: orb.Point{c.view.MaxX, c.view.MaxY}}
	if len(clip.LineString(view, path)) == 0 {
		return nil
	}
	return out
}

func near(a, b draw.Point, least float64) bool {
	return a.X-b.X < least && b.X-a.X < least && a.Y-b.Y < least && b.Y-a.Y < least
}

// The room that a village's name takes on paper, a cautious estimate as in ui/draw.
const (
	nameHighMM   = 3.2
	nameLetterMM = 1.6
)

// closeM is the size of a pixel below which every village is shown.
const closeM = 60

// villages returns those in view; a name is left out where it would cover one that is
// already there, and on a map of a wide area the village with it. The order of the list
// decides which stay.
func (c Chart) villages(g Ground) []draw.MapVillage {
	perMM := (c.view.MaxX - c.view.MinX) / c.sizeMM
	var out []draw.MapVillage
	var taken []draw.MapView
	for _, v := range g.Villages {
		at := c.point(v.Position.Pos)
		if !c.view.Has(at) {
			continue
		}
		room := draw.MapView{
			MinX: at.X - 2*perMM, MaxX: at.X + (2+nameLetterMM*float64(len([]rune(v.Name))))*perMM,
			MinY: at.Y - nameHighMM*perMM, MaxY: at.Y + nameHighMM*perMM,
		}
		village := draw.MapVillage{At: at}
		if room.MaxX < c.view.MaxX && !covers(taken, room) {
			village.Name = v.Name
			taken = append(taken, room)
		}
		if village.Name == "" && c.PixelM() > closeM {
			continue
		}
		out = append(out, village)
	}
	return out
}

func covers(taken []draw.MapView, room draw.MapView) bool {
	for _, t := range taken {
		if t.MinX < room.MaxX && room.MinX < t.MaxX && t.MinY < room.MaxY && room.MinY < t.MaxY {
			return true
		}
	}
	return false
}
