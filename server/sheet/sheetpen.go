package sheet

import (
	"math"
	"strings"

	"waterstrike/ui/draw"

	"github.com/go-pdf/fpdf"
)

// sheetPen writes parts of an advice one under another. All sizes follow that of its
// letters, so that a dry pen tells how far down a sheet goes without writing it.
type sheetPen struct {
	doc        *fpdf.Fpdf
	pt         float64
	x, y, wide float64 // where the next line begins and how wide it may be, mm
	dry        bool
}

// colourOf is the colour of a verdict's words by its mark; the words say the same.
func colourOf(mark string) [3]int {
	switch mark {
	case "go":
		return [3]int{0x0a, 0x5a, 0x56}
	case "care":
		return [3]int{0x7a, 0x4f, 0x00}
	case "avoid":
		return [3]int{0x8e, 0x1f, 0x1f}
	}
	return [3]int{0x3f, 0x4a, 0x63}
}

func (p *sheetPen) at(x, y, wide float64) { p.x, p.y, p.wide = x, y, wide }

// mm is a length that is so many times the size of the letters.
func (p *sheetPen) mm(of float64) float64 { return p.pt * of * 25.4 / 72 }

func (p *sheetPen) font(weight string, scale float64) {
	p.doc.SetFont(draw.PDFFont, weight, p.pt*scale)
}

// split breaks words into lines of a width, in the font that is set.
func (p *sheetPen) split(words string, wide float64) []string {
	if words == "" {
		return nil
	}
	return p.doc.SplitText(draw.PDFWords(words), wide)
}

// line writes one line without going on to the next.
func (p *sheetPen) line(x, y float64, words, align string, wide, high float64) {
	if p.dry {
		return
	}
	p.doc.SetXY(x, y)
	p.doc.CellFormat(wide, high, draw.PDFWords(words), "", 0, align, false, 0, "")
}

// words writes a paragraph.
func (p *sheetPen) words(words, weight string, scale float64) {
	p.font(weight, scale)
	high := p.mm(1.22 * scale)
	for _, line := range p.split(words, p.wide) {
		p.line(p.x, p.y, line, "L", p.wide, high)
		p.y += high
	}
}

func (p *sheetPen) ink(c [3]int) { p.doc.SetTextColor(c[0], c[1], c[2]) }

func (p *sheetPen) black() { p.ink([3]int{0x15, 0x21, 0x1f}) }

// rule draws a thin line across the column.
func (p *sheetPen) rule() {
	if !p.dry {
		p.doc.SetDrawColor(0x9a, 0xa6, 0xa1)
		p.doc.SetLineWidth(0.15)
		p.doc.Line(p.x, p.y+p.mm(0.15), p.x+p.wide, p.y+p.mm(0.15))
	}
	p.y += p.mm(0.3)
}

func (p *sheetPen) heading(words string) {
	p.y += p.mm(0.5)
	p.words(words, "B", 1.1)
	p.rule()
}

// item writes one entry of a list behind a dash.
func (p *sheetPen) item(words string) {
	in := p.mm(1)
	p.font("", 1)
	p.line(p.x, p.y, "–", "L", in, p.mm(1.22))
	p.x, p.wide = p.x+in, p.wide-in
	p.words(words, "", 1)
	p.x, p.wide = p.x-in, p.wide+in
}

func (p *sheetPen) list(l Lines) {
	p.heading(l.Heading)
	for _, line := range l.Lines {
		p.item(line)
	}
}

// columns writes parts into two columns, in their order, so that the longer is as short as
// it can be.
func (p *sheetPen) columns(parts ...func()) {
	x, y, wide := p.x, p.y, p.wide
	half := (wide - sheetGapMM) / 2
	highs := p.highs(half, parts)
	first, longest := len(parts), math.Inf(1)
	for n := range len(parts) + 1 {
		if most := max(sum(highs[:n]), sum(highs[n:])); most < longest {
			first, longest = n, most
		}
	}
	p.at(x, y, half)
	for i, part := range parts {
		if i == first {
			p.at(x+half+sheetGapMM, y, half)
		}
		part()
	}
	p.at(x, y+longest, wide)
}

// highs measures parts in a column of a width.
func (p *sheetPen) highs(wide float64, parts []func()) []float64 {
	was := *p
	p.dry = true
	out := make([]float64, len(parts))
	for i, part := range parts {
		p.at(0, 0, wide)
		part()
		out[i] = p.y
	}
	*p = was
	return out
}

func sum(of []float64) (total float64) {
	for _, v := range of {
		total += v
	}
	return total
}

// verdict writes the head of the sheet.
func (p *sheetPen) verdict(name string, a Sheet, program string) {
	p.black()
	p.font("B", 1)
	p.line(p.x, p.y, program, "R", p.wide, p.mm(1.22))
	p.words(strings.Join([]string{name, a.Title}, " · "), "", 1)
	p.ink(colourOf(a.Verdict.Mark))
	p.words(a.Verdict.Words, "B", 2)
	p.black()
	p.words(begun(a.Verdict.Chance), "B", 1.2)
	for _, line := range a.Verdict.Details {
		p.words(line, "", 1)
	}
	p.words(strings.Join(a.Asked, "   "), "", 1)
}
