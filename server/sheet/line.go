package sheet

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// Line is a line over the land, with what is expected along it and the bores about it.
type Line struct {
	From, To coord.LonLat
	Stations []Station // from From to To; at least 2
	Bores    []geo.Bore
	AsideM   float64 // bores farther from the line are left out
	DeepM    float64 // how far below the ground is drawn
}

// Station is what is expected at one place of a line; what is not known is missing.
type Station struct {
	AlongM  float64 // from the line's start, m
	GroundM float64 // elevation, m
	Odds    *advisor.OddsColumn
	Water   *advisor.Water
}

// LineSection draws the ground along a line: its stations with the odds of their layers and
// the water levels, and the bores about it set onto it from the side. A bore hangs from the
// ground line, so that depths below ground can be compared.
//
// A slim one is for a phone: as wide as its window, with letters of the size of its words, and without the names of bores.
//
//   - Errors: those of [draw.Section]: fewer than 2 stations, a line without length.
func LineSection(c *say.Catalogue, l say.Lang, line Line, slim bool) (draw.Scene, error) {
	s := speaker{c, l}
	from := say.With("place", say.Position(line.From.Lat, line.From.Lon))
	id, widthMM, title := "line-", 180.0, s.Say("drawing.line-title", from, say.With("distance", say.Distance(line.AsideM)))
	if slim {
		id, widthMM, title = "slim-line-", 92, s.Say("drawing.section-title", from)
	}
	d := draw.SectionData{Water: line.water()}
	for _, st := range line.Stations {
		d.Ground = append(d.Ground, draw.Point{X: st.AlongM, Y: st.GroundM})
		if st.Odds != nil {
			d.Columns = append(d.Columns, draw.SectionColumn{X: st.AlongM, TopElev: st.GroundM, Layers: cutAt(oddsCells(*st.Odds, line.DeepM), line.DeepM)})
		}
	}
	all := line.Beside()
	shown := line.thinned(all)
	d.Bores = s.projected(line, shown)
	if slim {
		unname(d.Bores)
	}
	note := ""
	if len(shown) < len(all) {
		note = s.Say("drawing.thinned", say.With("n", say.Count(len(shown))), say.With("total", say.Count(len(all))))
	}
	return draw.Section(d, draw.SectionOptions{
		WidthMM: widthMM, HeightMM: 120, ID: id, Title: title, Desc: s.Say("drawing.line-described"),
		DistanceLabel: s.Say("drawing.distance-axis"), ElevLabel: s.Say("drawing.elevation-axis"),
		Words: s.drawingWords(), Number: s.tick, Note: note,
		Unnamed: func(n int) string { return s.Say("drawing.unnamed", say.With("n", say.Count(n))) },
	})
}

// water joins neighbouring stations whose levels are known, and gives the ranges where the
// layers are drawn too.
func (line Line) water() (out []draw.SectionLine) {
	for place, key := range draw.WaterLines() {
		var run draw.SectionLine
		for i := range len(line.Stations) + 1 {
			if i < len(line.Stations) && line.Stations[i].Water != nil {
				st := line.Stations[i]
				depth := levels(st.Water)[place].depth
				run.Points = append(run.Points, draw.Point{X: st.AlongM, Y: st.GroundM - depth.P50})
				if st.Odds != nil {
					run.Ranges = append(run.Ranges, draw.SectionRange{X: st.AlongM, LoElev: st.GroundM - depth.P90, HiElev: st.GroundM - depth.P10})
				}
				continue
			}
			if len(run.Points) > 1 {
				run.Key = key
				out = append(out, run)
			}
			run = draw.SectionLine{}
		}
	}
	return out
}

// unname takes the names off bores where a drawing has no room for them.
func unname(bores []draw.SectionBore) {
	for i := range bores {
		bores[i].Label = ""
	}
}

// Beside is a bore with its place beside a line.
type Beside struct {
	Bore           geo.Bore
	AlongM, AsideM float64 // from the line's start, and from the line
}

// Beside lists the bores that stand close enough beside the line, from its start on.
func (line Line) Beside() (out []Beside) {
	plane := coord.NewPlane(line.From)
	to := plane.XY(line.To)
	length := math.Hypot(to.X, to.Y)
	for _, b := range line.Bores {
		at, known := b.Position.Get()
		if !known || length == 0 {
			continue
		}
		xy := plane.XY(at.Pos)
		along := (xy.X*to.X + xy.Y*to.Y) / length
		aside := math.Abs(xy.X*to.Y-xy.Y*to.X) / length
		if _, over := line.groundAt(along); over && aside <= line.AsideM {
			out = append(out, Beside{b, along, aside})
		}
	}
	slices.SortStableFunc(out, func(a, b Beside) int { return cmp.Compare(a.AlongM, b.AlongM) })
	return out
}

// mostBeside is how many bores a drawing shows beside a line: of more, none could be told
// from the next, and a browser would take minutes to print them.
const mostBeside = 60

// thinned keeps of too many bores the nearest to the line in each stretch of it.
func (line Line) thinned(all []Beside) (out []Beside) {
	if len(all) <= mostBeside {
		return all
	}
	longM, last := coord.DistanceM(line.From, line.To), -1
	for _, b := range all { // from the line's start on
		stretch := int(b.AlongM / longM * mostBeside)
		switch {
		case stretch != last:
			out, last = append(out, b), stretch
		case b.AsideM < out[len(out)-1].AsideM:
			out[len(out)-1] = b
		}
	}
	return out
}

// projected sets bores beside a line onto it.
func (s speaker) projected(line Line, beside []Beside) (out []draw.SectionBore) {
	for _, b := range beside {
		ground, _ := line.groundAt(b.AlongM) // it is over the line
		out = append(out, s.hung(b.Bore, b.AlongM, ground, b.AsideM, line.DeepM))
	}
	return out
}

// groundAt interpolates the ground between stations; false beyond them.
func (line Line) groundAt(along float64) (float64, bool) {
	for i := 1; i < len(line.Stations); i++ {
		a, b := line.Stations[i-1], line.Stations[i]
		if a.AlongM <= along && along <= b.AlongM && b.AlongM > a.AlongM {
			return a.GroundM + (along-a.AlongM)/(b.AlongM-a.AlongM)*(b.GroundM-a.GroundM), true
		}
	}
	return 0, false
}

// hung is a bore at its place along the line, down to where the drawing ends.
func (s speaker) hung(b geo.Bore, along, ground, aside, deepM float64) draw.SectionBore {
	var layers []draw.ColumnLayer
	depth := b.DepthM.Or(0)
	for _, l := range b.Layers {
		layers = append(layers, draw.ColumnLayer{TopM: l.TopM, BaseM: l.BaseM, Odds: []draw.Odds{{Class: lookOf(l.Class, l.Grade), Share: 1}}})
		depth = max(depth, l.BaseM)
	}
	return draw.SectionBore{
		X: along, TopElev: ground, BaseElev: ground - min(depth, deepM), Deeper: depth > deepM,
		Layers: cutAt(layers, deepM), Outcome: string(b.Outcome),
		Label: s.Say("drawing.line-bore", say.With("bore", say.Text(b.Label())), say.With("distance", say.Distance(aside))),
	}
}

// cutAt cuts layers at a depth.
func cutAt(layers []draw.ColumnLayer, depthM float64) []draw.ColumnLayer {
	layers = slices.DeleteFunc(layers, func(l draw.ColumnLayer) bool { return l.TopM >= depthM })
	for i := range layers {
		layers[i].BaseM = min(layers[i].BaseM, depthM)
	}
	return layers
}
