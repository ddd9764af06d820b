package server

import (
	"net/url"
	"strconv"
	"strings"

	"waterstrike/geo/coord"
	"waterstrike/server/tile"
	"waterstrike/ui/say"

	"github.com/paulmach/orb"
)

func (s speaker) villageRows(v *listingView, places *tile.Places, box orb.Bound, from int) (total int) {
	v.Columns = s.words("map.village", "map.people", "map.place")
	var names []string
	for _, village := range places.Villages {
		at := village.Position.Pos
		if !box.Contains(at.Point()) {
			continue
		}
		if total++; total > from && total <= from+pageRows {
			people := s.Say("bore.not-written")
			if n, known := village.People.Get(); known {
				people = s.Say("value.count", say.With("n", say.Count(n)))
			}
			names = append(names, village.Name)
			v.Rows = append(v.Rows, listingRow{Name: village.Name, Href: s.adviceAt(at.Lat, at.Lon), Cells: cells(v.Columns[1:], people, s.place(at))})
		}
	}
	if len(names) > 0 {
		v.Sheets = &linkView{Name: s.Say("sheets.link"), Href: sheetsAt(names, s.lang)}
	}
	return total
}

func (s speaker) pointRows(v *listingView, places *tile.Places, box orb.Bound, from int) (total int) {
	v.Columns = s.words("map.point", "map.kind", "map.works", "map.drilled", "map.place")
	for _, w := range places.Points {
		at := w.Position.Pos
		if !box.Contains(at.Point()) {
			continue
		}
		if total++; total > from && total <= from+pageRows {
			state := s.Say("map.state.unknown")
			if works, known := w.Works.Get(); known && works {
				state = s.Say("map.state.works")
			} else if known {
				state = s.Say("map.state.broken")
			}
			v.Rows = append(v.Rows, listingRow{
				Name: s.nameOr(w.Name), Href: s.adviceAt(at.Lat, at.Lon),
				Cells: cells(v.Columns[1:], s.Say("map.kind."+string(w.Kind)), state, s.metresOr(w.DepthM), s.place(at)),
			})
		}
	}
	return total
}

// markRows are places that others drew; they lead to the advice there.
func (s speaker) markRows(v *listingView, places *tile.Places, box orb.Bound, from int) (total int) {
	v.Columns = s.words("map.name", "map.place")
	for _, m := range places.Marks {
		if !box.Contains(m.Shape) {
			continue
		}
		if total++; total > from && total <= from+pageRows {
			at := coord.LonLat{Lon: m.Shape.Lon(), Lat: m.Shape.Lat()}
			v.Rows = append(v.Rows, listingRow{Name: s.nameOr(m.Name), Href: s.adviceAt(at.Lat, at.Lon), Cells: cells(v.Columns[1:], s.place(at))})
		}
	}
	return total
}

// linesOf are the lines of a list.
func linesOf(places *tile.Places, of string) (out []tile.Named[orb.MultiLineString]) {
	switch of {
	case listRoads:
		for _, r := range places.Roads {
			out = append(out, tile.Named[orb.MultiLineString]{Name: r.Name, Shape: orb.MultiLineString{r.Shape}})
		}
	case listRivers:
		for _, r := range places.Rivers {
			out = append(out, tile.Named[orb.MultiLineString]{Name: r.Name, Shape: orb.MultiLineString{r.Line}})
		}
	case listOutlines:
		for _, b := range places.Boundaries {
			outline := tile.Named[orb.MultiLineString]{Name: b.Name}
			for _, polygon := range b.Shape {
				for _, ring := range polygon {
					outline.Shape = append(outline.Shape, orb.LineString(ring))
				}
			}
			out = append(out, outline)
		}
	}
	return out
}

// lineRows are lines: how long, from where to where; outlines: how long, and their middle.
// They lead to the part of the map that shows them whole.
func (s speaker) lineRows(v *listingView, of string, lines []tile.Named[orb.MultiLineString], box orb.Bound, from int) (total int) {
	v.Columns = s.words("map.name", "map.length", "map.begins", "map.ends")
	if of == listOutlines {
		v.Columns = s.words("map.name", "map.outline", "map.middle")
	}
	for _, l := range lines {
		bound := l.Shape.Bound()
		if bound.IsEmpty() || !box.Intersects(bound) {
			continue
		}
		if total++; total <= from || total > from+pageRows {
			continue
		}
		length := s.Say("value.distance", say.With("distance", say.Distance(lengthM(l.Shape))))
		told := []string{length, s.point(bound.Center())}
		if of != listOutlines {
			line := l.Shape[0]
			told = []string{length, s.point(line[0]), s.point(line[len(line)-1])}
		}
		v.Rows = append(v.Rows, listingRow{Name: s.nameOr(l.Name), Href: s.mapOf(bound), Cells: cells(v.Columns[1:], told...)})
	}
	return total
}

// nameOr is a name, or that there is none.
func (s speaker) nameOr(name string) string {
	if name == "" {
		return s.Say("map.nameless")
	}
	return name
}

func (s speaker) point(p orb.Point) string { return s.place(coord.LonLat{Lon: p.Lon(), Lat: p.Lat()}) }

// mapOf is the address of the map of a part of the land.
func (s speaker) mapOf(b orb.Bound) string {
	box := make([]string, 0, 4)
	for _, v := range []float64{b.Min.Lon(), b.Min.Lat(), b.Max.Lon(), b.Max.Lat()} {
		box = append(box, strconv.FormatFloat(v, 'f', 5, 64))
	}
	return "/map?" + url.Values{fieldBox: {strings.Join(box, ",")}, "lang": {s.lang.String()}}.Encode()
}

// lengthM is the length of lines on the ellipsoid, in metres.
func lengthM(lines orb.MultiLineString) (sum float64) {
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			sum += coord.DistanceM(coord.LonLat{Lon: l[i-1].Lon(), Lat: l[i-1].Lat()}, coord.LonLat{Lon: l[i].Lon(), Lat: l[i].Lat()})
		}
	}
	return sum
}
