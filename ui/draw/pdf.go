package draw

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/go-pdf/fpdf"
)

// PDFFont is the family that words of a scene are set in: a document that scenes are put
// into must hold it, plain and bold.
const PDFFont = "words"

// PDF puts the scene on the present page of a document that counts in millimetres, its
// upper left corner at a place.
//
//   - Domain: areas with the marks of a soil class are upright rectangles or closed paths;
//     their marks are drawn one by one, as far as the area goes.
//   - Errors: a colour that is none, a class that is none, and those of the document.
func (s Scene) PDF(doc *fpdf.Fpdf, at Point) error {
	p := pdfPen{doc, at}
	if err := p.items(s.Items); err != nil {
		return err
	}
	return doc.Error()
}

// pdfPen draws items of a scene whose corner lies at a place of the page.
type pdfPen struct {
	doc *fpdf.Fpdf
	at  Point
}

func (p pdfPen) items(items []Item) error {
	for _, item := range items {
		if err := p.item(item); err != nil {
			return err
		}
	}
	return nil
}

func (p pdfPen) item(item Item) error {
	switch x := item.(type) {
	case Path:
		return p.path(x)
	case Circle:
		style, err := p.style(x.Fill, x.Stroke)
		if err == nil && style != "" {
			p.doc.Circle(p.at.X+x.Center.X, p.at.Y+x.Center.Y, x.RadiusMM, style)
		}
		return err
	case Rect:
		if x.Fill.Pattern != "" {
			right, foot := x.X+x.WidthMM, x.Y+x.HeightMM
			return p.marked([]Point{{x.X, x.Y}, {right, x.Y}, {right, foot}, {x.X, foot}}, x.Fill, x.Stroke)
		}
		style, err := p.style(x.Fill, x.Stroke)
		if err == nil && style != "" {
			p.doc.Rect(p.at.X+x.X, p.at.Y+x.Y, x.WidthMM, x.HeightMM, style)
		}
		return err
	case Text:
		return p.text(x)
	case Group:
		return p.group(x)
	}
	return nil
}

func (p pdfPen) group(g Group) error {
	if len(g.Clip) == 0 {
		return p.items(g.Items)
	}
	clip := make([]fpdf.PointType, len(g.Clip))
	for i, q := range g.Clip {
		clip[i] = fpdf.PointType{X: p.at.X + q.X, Y: p.at.Y + q.Y}
	}
	p.doc.ClipPolygon(clip, false)
	defer p.doc.ClipEnd()
	return p.items(g.Items)
}

func (p pdfPen) path(x Path) error {
	fill := x.Fill
	if !x.Closed {
		fill = Fill{}
	}
	if fill.Pattern != "" {
		return p.marked(x.Points, fill, x.Stroke)
	}
	style, err := p.style(fill, x.Stroke)
	if err != nil || style == "" || len(x.Points) < 2 {
		return err
	}
	for i, q := range x.Points {
		if i == 0 {
			p.doc.MoveTo(p.at.X+q.X, p.at.Y+q.Y)
		} else {
			p.doc.LineTo(p.at.X+q.X, p.at.Y+q.Y)
		}
	}
	if x.Closed {
		p.doc.ClosePath()
	}
	p.doc.DrawPath(style)
	return nil
}

// marked draws an area with the marks of a soil class: its colour, the marks tile by tile
// within it, and its outline over them. Tiles stand alike on the whole sheet.
func (p pdfPen) marked(area []Point, f Fill, s Stroke) error {
	look, err := LookOf(f.Pattern)
	if err != nil {
		return err
	}
	tile := look.Tile
	if err := p.path(Path{Points: area, Closed: true, Fill: Fill{Color: f.Color}}); err != nil {
		return err
	}
	e := noExtent().with(area...)
	var marks []Item
	for y := tile.HeightMM * math.Floor(e.minY/tile.HeightMM); y < e.maxY; y += tile.HeightMM {
		for x := tile.WidthMM * math.Floor(e.minX/tile.WidthMM); x < e.maxX; x += tile.WidthMM {
			for _, m := range tile.Marks {
				marks = append(marks, moved(m, x, y))
			}
		}
	}
	if err := p.group(Group{Clip: area, Items: marks}); err != nil {
		return err
	}
	return p.path(Path{Points: area, Closed: true, Stroke: s})
}

// moved is a mark of a tile somewhere else; tiles hold circles and paths alone.
func moved(m Item, dx, dy float64) Item {
	switch m := m.(type) {
	case Circle:
		m.Center = Point{m.Center.X + dx, m.Center.Y + dy}
		return m
	case Path:
		points := make([]Point, len(m.Points))
		for i, q := range m.Points {
			points[i] = Point{q.X + dx, q.Y + dy}
		}
		m.Points = points
		return m
	}
	return m
}

// style sets colours and lines; "" where nothing would show.
func (p pdfPen) style(f Fill, s Stroke) (style string, err error) {
	if f.Pattern != "" {
		return "", errors.New("draw: a circle with the marks of a soil class cannot be put into a PDF")
	}
	if f.Color != "" {
		r, g, b, err := rgb(f.Color)
		if err != nil {
			return "", err
		}
		p.doc.SetFillColor(r, g, b)
		style = "F"
	}
	if s.Color != "" && s.WidthMM > 0 {
		r, g, b, err := rgb(s.Color)
		if err != nil {
			return "", err
		}
		p.doc.SetDrawColor(r, g, b)
		p.doc.SetLineWidth(s.WidthMM)
		p.doc.SetDashPattern(s.Dash, 0)
		style += "D"
	}
	return style, nil
}

const pointMM = 25.4 / 72

func (p pdfPen) text(t Text) error {
	color := t.Color
	if color == "" {
		color = ink
	}
	r, g, b, err := rgb(color)
	if err != nil {
		return err
	}
	weight := ""
	if t.Bold {
		weight = "B"
	}
	p.doc.SetFont(PDFFont, weight, t.SizeMM/pointMM)
	p.doc.SetTextColor(r, g, b)
	words := PDFWords(t.Words)
	x, y := p.at.X+t.At.X, p.at.Y+t.At.Y
	left := x
	switch t.Anchor {
	case Middle:
		left -= p.doc.GetStringWidth(words) / 2
	case End:
		left -= p.doc.GetStringWidth(words)
	}
	if t.Rotate != 0 {
		p.doc.TransformBegin()
		p.doc.TransformRotate(-t.Rotate, x, y)
		defer p.doc.TransformEnd()
	}
	if t.Halo {
		p.doc.SetTextRenderingMode(1) // the outlines alone: ISO 32000-1, table 106
		p.doc.SetDrawColor(255, 255, 255)
		p.doc.SetLineWidth(0.22 * t.SizeMM)
		p.doc.SetDashPattern(nil, 0)
		p.doc.Text(left, y, words)
		p.doc.SetTextRenderingMode(0)
	}
	p.doc.Text(left, y, words)
	return nil
}

// plainPDF replaces the narrow unbreakable blank and drops the word joiner, which the font lacks.
var plainPDF = strings.NewReplacer("\u202f", "\u00a0", "\u2060", "")

// PDFWords are words in the signs that the font of a PDF has.
func PDFWords(words string) string { return plainPDF.Replace(words) }

// rgb reads "#rrggbb".
func rgb(color string) (r, g, b int, err error) {
	v, err := strconv.ParseUint(strings.TrimPrefix(color, "#"), 16, 24)
	return int(v >> 16), int(v >> 8 & 0xff), int(v & 0xff), err
}
