package draw

import "errors"

// MapBore is a bore on the map.
type MapBore struct {
	At      Point
	Outcome string // key, one of Outcomes
	Label   string // empty for none
}

// MapVillage is a village on the map.
type MapVillage struct {
	At   Point
	Name string
}

// MapData is what lies in the mapped area. In every Point X runs east and Y north, in
// metres of one projected plane.
type MapData struct {
	Bores    []MapBore
	Villages []MapVillage
	Rivers   [][]Point
	Boundary [][]Point // closed rings
	Site     *Point    // the point asked about
}

// MapOptions are the sheet and the words of a map.
type MapOptions struct {
	WidthMM, HeightMM float64
	ID, Title, Desc   string
	North             string               // letter at the north arrow
	Words             map[string]string    // "outcome.dry" and so on, "village", "river", "boundary", "site"
	Distance          func(float64) string // writes the scale bar's length given in m; nil: "500 m", "2 km"
}

// Map draws a plain map, north up, with a scale bar and a legend of what it shows.
//
//   - Units: coordinates in m, sizes in mm; one scale in both directions.
//   - Errors: nothing to draw, unknown outcomes, coordinates that are not finite, no room.
func Map(d MapData, o MapOptions) (Scene, error) {
	entries, err := mapEntries(d, o.Words)
	if err != nil {
		return Scene{}, err
	}
	area := mapExtent(d)
	if err := area.check(); err != nil {
		return Scene{}, err
	}
	return northUp(area.grown(0.05, 0.05, 50), entries, o, func(f frame) []Item { return mapGround(f, d) })
}

// northUp frames what is drawn of an area with a title, a scale bar, an arrow to the north
// and a legend.
func northUp(area extent, entries []entry, o MapOptions, ground func(frame) []Item) (Scene, error) {
	const margin = 3.0
	_, legendH := legend(entries, Point{}, o.WidthMM-2*margin)
	bottom := o.HeightMM - margin - legendH
	sheet := Rect{X: margin, Y: 9, WidthMM: o.WidthMM - 2*margin, HeightMM: bottom - 3 - 9}
	if sheet.WidthMM < 10 || sheet.HeightMM < 10 {
		return Scene{}, errors.New("draw: the sheet is too small for the map and its legend")
	}
	f := mapFrame(area, sheet)
	signs, _ := legend(entries, Point{margin, bottom}, o.WidthMM-2*margin)
	items := []Item{Text{At: Point{margin, margin + titleMM}, Words: o.Title, SizeMM: titleMM, Bold: true}}
	items = append(items, Group{Clip: f.clip(), Items: ground(f)}, outlined(f.box()))
	items = append(items, scaleBar(f, o.Distance)...)
	items = append(items, northArrow(Point{sheet.X + sheet.WidthMM - 6, sheet.Y + 4}, o.North)...)
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, append(items, signs...)}, nil
}

func mapExtent(d MapData) extent {
	e := noExtent()
	for _, b := range d.Bores {
		e = e.with(b.At)
	}
	for _, v := range d.Villages {
		e = e.with(v.At)
	}
	for _, lines := range [][][]Point{d.Rivers, d.Boundary} {
		for _, l := range lines {
			e = e.with(l...)
		}
	}
	if d.Site != nil {
		e = e.with(*d.Site)
	}
	return e
}

// mapFrame fits an area into a sheet with one scale both ways, centred.
func mapFrame(e extent, sheet Rect) frame {
	metresPerMM := max((e.maxX-e.minX)/sheet.WidthMM, (e.maxY-e.minY)/sheet.HeightMM)
	cx, cy := (e.minX+e.maxX)/2, (e.minY+e.maxY)/2
	halfX, halfY := metresPerMM*sheet.WidthMM/2, metresPerMM*sheet.HeightMM/2
	return frame{
		x: axis{cx - halfX, cx + halfX, sheet.X, sheet.X + sheet.WidthMM},
		y: axis{cy - halfY, cy + halfY, sheet.Y + sheet.HeightMM, sheet.Y},
	}
}
