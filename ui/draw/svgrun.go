package draw

import (
	"slices"
	"strings"
)

// patterned is how rectangles with the marks of a soil class are painted.
type patterned struct {
	fill    Fill
	edge    string
	widthMM float64
}

// clearOfEachOther gives the rectangles with marks that items begin with and that lie clear of one
// another, so that the order in which they are painted does not show.
func clearOfEachOther(items []Item) []Rect {
	var out []Rect
	for _, it := range items {
		r, ok := it.(Rect)
		if !ok || r.Fill.Pattern == "" || len(r.Stroke.Dash) > 0 || slices.ContainsFunc(out, r.covers) {
			break
		}
		out = append(out, r)
	}
	return out
}

// covers tells rectangles that lie over one another from those that share an edge but for
// the rounding of the document.
func (r Rect) covers(o Rect) bool {
	const rounding = 1e-3
	return r.X < o.X+o.WidthMM-rounding && o.X < r.X+r.WidthMM-rounding && r.Y < o.Y+o.HeightMM-rounding && o.Y < r.Y+r.HeightMM-rounding
}

// run writes rectangles that lie clear of one another as one shape for each look. A
// browser that prints a page makes a picture of the marks for every shape that bears
// them: a drawing of a thousand cells takes minutes and hundreds of megabytes otherwise.
func (v *svgWriter) run(rects []Rect) {
	var looks []patterned
	parts := map[patterned][]Rect{}
	for _, r := range rects {
		look := patterned{r.Fill, r.Stroke.Color, r.Stroke.WidthMM}
		if parts[look] == nil {
			v.tile(r.Fill.Pattern)
			looks = append(looks, look)
		}
		parts[look] = append(parts[look], r)
	}
	for _, l := range looks {
		v.rects(parts[l])
		v.paint(l.fill.Color, Stroke{})
	}
	for _, l := range looks {
		v.rects(parts[l])
		v.paint("url(#"+v.id+l.fill.Pattern+")", line(l.edge, l.widthMM))
	}
}

// rects opens the tag of one shape of several rectangles; one alone stays a rectangle.
func (v *svgWriter) rects(rects []Rect) {
	if len(rects) == 1 {
		v.rect(rects[0])
		return
	}
	var b strings.Builder
	for _, r := range rects {
		b.WriteString("M" + v.num(r.X) + " " + v.num(r.Y) + "h" + v.num(r.WidthMM) + "v" + v.num(r.HeightMM) + "h" + v.num(-r.WidthMM) + "z")
	}
	v.buf.WriteString("<path")
	v.attr("d", b.String())
}
