package sheet

import (
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// Section draws a cut through the invented land, from the place given along its line.
func Section(c *say.Catalogue, l say.Lang, from coord.LonLat, cut demoland.Section) (draw.Scene, error) {
	s := speaker{c, l}
	title := s.Say("drawing.section-title", say.With("place", say.Position(from.Lat, from.Lon)))
	return draw.Section(sectionData(cut), draw.SectionOptions{
		WidthMM: 180, HeightMM: 110, ID: "section-", Title: title, Desc: title,
		DistanceLabel: s.Say("drawing.distance-axis"), ElevLabel: s.Say("drawing.elevation-axis"),
		Words: s.drawingWords(), Number: s.tick,
	})
}

func sectionData(cut demoland.Section) draw.SectionData {
	d := draw.SectionData{
		Ground: along(cut.AlongM, cut.GroundM),
		Water: []draw.SectionLine{
			{Key: "wet-high", Points: along(cut.AlongM, cut.WetHighM)},
			{Key: "dry-low", Points: along(cut.AlongM, cut.NormalLowM)},
			{Key: "low-in-ten", Points: along(cut.AlongM, cut.DesignLowM)},
		},
	}
	for _, band := range cut.Bands {
		outline := make([]draw.Point, len(band.Outline))
		for i, corner := range band.Outline {
			outline[i] = draw.Point{X: corner.AlongM, Y: corner.ElevationM}
		}
		d.Layers = append(d.Layers, draw.SectionLayer{Class: lookOf(band.Class, band.Grade), Outline: outline})
	}
	return d
}

func along(x, y []float64) []draw.Point {
	out := make([]draw.Point, len(x))
	for i := range x {
		out[i] = draw.Point{X: x[i], Y: y[i]}
	}
	return out
}

// lookOf names how a body is drawn: sands by their grade where it is known.
func lookOf(class soil.Class, grade soil.Grade) string {
	graded := class.String() + "-" + grade.String()
	if _, err := draw.LookOf(graded); err == nil {
		return graded
	}
	return class.String()
}
