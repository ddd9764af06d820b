package draw

import (
	"errors"
	"strings"
)

// painted writes a shape: once with its colour, and once more with its pattern where
// it has one. Laying the marks over a plain area leaves no seams between tiles.
func (v *svgWriter) painted(f Fill, open func(), s Stroke) {
	first := s
	if f.Pattern != "" {
		v.tile(f.Pattern)
		first = Stroke{}
	}
	open()
	v.paint(f.Color, first)
	if f.Pattern == "" {
		return
	}
	open()
	v.paint("url(#"+v.id+f.Pattern+")", s)
}

// paint closes the tag of a shape with its fill and stroke.
func (v *svgWriter) paint(fill string, s Stroke) {
	if fill == "" {
		fill = "none"
	}
	v.attr("fill", fill)
	if s.Color != "" {
		v.attr("stroke", s.Color)
		v.attr("stroke-width", s.WidthMM)
		if len(s.Dash) > 0 {
			v.attr("stroke-dasharray", v.numbers(s.Dash))
		}
	}
	v.buf.WriteString("/>\n")
}

func (v *svgWriter) numbers(xs []float64) string {
	words := make([]string, len(xs))
	for i, x := range xs {
		words[i] = v.num(x)
	}
	return strings.Join(words, " ")
}

func (v *svgWriter) path(p Path) {
	v.buf.WriteString("<path")
	v.attr("d", v.outline(p.Points, p.Closed))
	if p.Stroke.Color != "" {
		v.attr("stroke-linejoin", "round")
	}
}

func (v *svgWriter) outline(points []Point, closed bool) string {
	var b strings.Builder
	for i, p := range points {
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(v.num(p.X) + " " + v.num(p.Y))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

func (v *svgWriter) circle(c Circle) {
	v.buf.WriteString("<circle")
	v.attr("cx", c.Center.X)
	v.attr("cy", c.Center.Y)
	v.attr("r", c.RadiusMM)
}

func (v *svgWriter) rect(r Rect) {
	v.buf.WriteString("<rect")
	v.attr("x", r.X)
	v.attr("y", r.Y)
	v.attr("width", r.WidthMM)
	v.attr("height", r.HeightMM)
}

func (v *svgWriter) text(t Text) {
	v.buf.WriteString("<text")
	v.attr("x", t.At.X)
	v.attr("y", t.At.Y)
	v.attr("font-size", t.SizeMM)
	if t.Anchor != "" && t.Anchor != Start {
		v.attr("text-anchor", string(t.Anchor))
	}
	if t.Rotate != 0 {
		v.attr("transform", "rotate("+v.numbers([]float64{t.Rotate, t.At.X, t.At.Y})+")")
	}
	if t.Bold {
		v.attr("font-weight", "bold")
	}
	if t.Color == "" {
		t.Color = ink
	}
	v.attr("fill", t.Color)
	if t.Halo {
		v.attr("stroke", "#ffffff")
		v.attr("stroke-width", t.SizeMM/4)
		v.attr("paint-order", "stroke")
	}
	v.buf.WriteByte('>')
	v.escape(t.Words)
	v.buf.WriteString("</text>\n")
}

func (v *svgWriter) group(g Group) {
	clip := ""
	if len(g.Clip) > 0 {
		v.clips++
		clip = v.id + "clip" + v.num(float64(v.clips))
		v.buf.WriteString("<clipPath")
		v.attr("id", clip)
		v.buf.WriteString(">")
		v.path(Path{Points: g.Clip, Closed: true})
		v.buf.WriteString("/></clipPath>\n")
	}
	v.buf.WriteString("<g")
	if clip != "" {
		v.attr("clip-path", "url(#"+clip+")")
	}
	v.buf.WriteString(">\n")
	if g.Title != "" {
		v.element("title", "", g.Title)
	}
	v.items(g.Items)
	v.buf.WriteString("</g>\n")
}

// tile writes the pattern of a soil class, the first time it is used.
func (v *svgWriter) tile(class string) {
	if v.tiles[class] {
		return
	}
	v.tiles[class] = true
	c, err := LookOf(class)
	if err != nil {
		v.err = errors.Join(v.err, err)
		return
	}
	v.buf.WriteString("<pattern")
	v.attr("id", v.id+class)
	v.attr("width", c.Tile.WidthMM)
	v.attr("height", c.Tile.HeightMM)
	v.attr("patternUnits", "userSpaceOnUse")
	v.buf.WriteString(">\n")
	v.items(c.Tile.Marks)
	v.buf.WriteString("</pattern>\n")
}
