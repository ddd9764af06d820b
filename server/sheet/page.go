package sheet

import (
	"html/template"
	"strings"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// Page is the sheet with its drawings, ready for a template that holds no logic.
type Page struct {
	Sheet
	Column  Drawing // the layers expected, with the water
	Locator Drawing // the bores that the advice rests on
	Legend  Drawing // of the locator
	Visits  []Table // what siting visits to the spot found
}

// Drawing is an inline SVG under a heading; empty when there is nothing to draw.
type Drawing struct {
	Heading string
	SVG     template.HTML
	Caption string // how to read it; may be empty
}

// locatorPX is the side of the small map in CSS pixels.
const locatorPX = 320

// NewPage says an advice in a language and draws it, with what of the ground lies near.
func NewPage(c *say.Catalogue, l say.Lang, a advisor.Advice, around Ground) (Page, error) {
	s := speaker{c, l}
	p := Page{Sheet: New(c, l, a)}
	column, drawn, err := s.column(a)
	if err == nil && drawn {
		p.Column, err = inline(s.Say("sheet.drawing"), column)
	}
	if err != nil {
		return Page{}, geo.Fail(geo.Internal, "sheet.NewPage", geo.Message{}, err)
	}
	if err := p.locate(s, a, around); err != nil {
		return Page{}, geo.Fail(geo.Internal, "sheet.NewPage", geo.Message{}, err)
	}
	return p, nil
}

// Visited adds what siting visits to the spot found; the distances are those of the plan
// where there is one.
func (p *Page) Visited(c *say.Catalogue, l say.Lang, a advisor.Advice, visits []Visit) {
	if a.Plan != nil {
		for i := range visits {
			visits[i].Apart = a.Plan.Building.Apart
		}
	}
	p.Visits = speaker{c, l}.visits(visits)
}

// locate draws the bores of the evidence; without any there is no small map.
func (p *Page) locate(s speaker, a advisor.Advice, around Ground) error {
	bores := a.Evidence.Bores
	if len(bores) == 0 {
		return nil
	}
	around.Bores = nil
	farthest := 0.0
	for _, b := range bores {
		around.Bores = append(around.Bores, MapBore{b.At, b.Outcome})
		farthest = max(farthest, b.DistanceM)
	}
	const border = 1.08 // signs at the edge stay whole
	chart := Near(a.Question.At, border*farthest, locatorPX)
	data := chart.data(around, &a.Question.At)
	title := s.Say("drawing.map-title", say.With("place", say.Position(a.Question.At.Lat, a.Question.At.Lon)))
	plate, err := draw.MapPlate(data, chart.view, chart.options(s, "locator-", title))
	if err != nil {
		return err
	}
	legend, err := chart.legend(s, data, "signs-")
	if err != nil {
		return err
	}
	if p.Locator, err = inline(s.Say("sheet.locator"), plate); err != nil {
		return err
	}
	p.Legend, err = inline(s.Say("drawing.legend"), legend)
	return err
}

// inline writes a scene as part of a page. The writer of scenes escapes every word.
func inline(heading string, scene draw.Scene) (Drawing, error) {
	var b strings.Builder
	err := scene.WriteSVG(&b)
	return Drawing{Heading: heading, SVG: template.HTML(b.String())}, err
}
