package draw

import (
	"errors"
	"fmt"
)

// MapView is the part of the plane that a plate shows, in metres.
type MapView struct{ MinX, MinY, MaxX, MaxY float64 }

// Fit returns the smallest view around v that has the proportions of a sheet.
func (v MapView) Fit(widthMM, heightMM float64) MapView {
	f := mapFrame(extent{v.MinX, v.MinY, v.MaxX, v.MaxY}, Rect{WidthMM: widthMM, HeightMM: heightMM})
	return MapView{f.x.from, f.y.from, f.x.to, f.y.to}
}

// At returns the place in the view at a share of its width from the left and of its
// height from the top.
func (v MapView) At(fromLeft, fromTop float64) Point {
	return Point{v.MinX + fromLeft*(v.MaxX-v.MinX), v.MaxY - fromTop*(v.MaxY-v.MinY)}
}

// Has tells whether a point lies in the view.
func (v MapView) Has(p Point) bool {
	return v.MinX <= p.X && p.X <= v.MaxX && v.MinY <= p.Y && p.Y <= v.MaxY
}

// MapPlate draws a map that fills its sheet to the edges, so that a place on the picture
// is a place in the view by one ratio ([MapView.At]). It has no title or legend on it:
// [MapLegend] draws the legend apart.
//
//   - Units: coordinates in m, sizes in mm; the view must have the sheet's proportions.
//   - Errors: a view of no size or of other proportions, unknown outcomes.
func MapPlate(d MapData, v MapView, o MapOptions) (Scene, error) {
	if _, err := mapEntries(d, o.Words); err != nil {
		return Scene{}, err
	}
	if err := v.check(o.WidthMM / o.HeightMM); err != nil {
		return Scene{}, err
	}
	f := frame{x: axis{v.MinX, v.MaxX, 0, o.WidthMM}, y: axis{v.MinY, v.MaxY, o.HeightMM, 0}}
	paper := f.box()
	paper.Fill = Fill{Color: "#ffffff"}
	items := []Item{paper, Group{Clip: f.clip(), Items: mapGround(f, d)}}
	items = append(items, scaleBar(f, o.Distance)...)
	items = append(items, northArrow(Point{o.WidthMM - 5, 3}, o.North)...)
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, append(items, outlined(f.box()))}, nil
}

func (v MapView) check(wanted float64) error {
	width, height := v.MaxX-v.MinX, v.MaxY-v.MinY
	if !(width > 0) || !(height > 0) || !finite(width, height, wanted) {
		return errors.New("draw: the view of a map has no size")
	}
	const slack = 1e-6 // of the ratio, for rounding; a hundredth of a pixel would not show
	if ratio := width / height / wanted; ratio < 1-slack || ratio > 1+slack {
		return fmt.Errorf("draw: the view's proportions are %v times those of the sheet; use Fit", ratio)
	}
	return nil
}

// MapLegend draws the signs that a map of d uses, as high as they need.
//
//   - Errors: unknown outcomes; nothing to explain.
func MapLegend(d MapData, o MapOptions) (Scene, error) {
	entries, err := mapEntries(d, o.Words)
	if err != nil {
		return Scene{}, err
	}
	if len(entries) == 0 {
		return Scene{}, errors.New("draw: the map shows nothing that a legend could explain")
	}
	const margin = 1.0
	items, height := legend(entries, Point{margin, margin}, o.WidthMM-2*margin)
	return Scene{o.WidthMM, height + margin, o.ID, o.Title, o.Desc, items}, nil
}
