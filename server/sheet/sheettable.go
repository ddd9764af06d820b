package sheet

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"waterstrike/ui/draw"
)

// table writes rows beneath their heads, the notes after them.
func (p *sheetPen) table(t Table) {
	p.heading(t.Heading)
	p.words(t.Missing, "", 1)
	if len(t.Rows) > 0 {
		rows := [][]string{t.Columns}
		for _, r := range t.Rows {
			cells := make([]string, len(r))
			for i, c := range r {
				cells[i] = c.Words
			}
			rows = append(rows, cells)
		}
		p.grid(rows, p.widths(rows, p.wide), nil)
	}
	for _, note := range t.Notes {
		p.item(note)
	}
}

// chances writes the methods with their bars.
func (p *sheetPen) chances(c Chances) {
	p.heading(c.Heading)
	if p.words(c.Missing, "", 1); c.Missing != "" {
		return
	}
	rows := [][]string{c.Columns}
	for _, r := range c.Rows {
		rows = append(rows, []string{r.Method, r.Chance, r.Range})
	}
	bar := p.wide / 5
	widths := p.widths(rows, p.wide-bar)
	p.grid(rows, widths, func(row int, y float64) {
		if row > 0 {
			p.bar(c.Rows[row-1], p.x+p.wide-bar, y, bar)
		}
	})
	p.item(c.Note)
	if c.Months != "" {
		p.item(c.Months)
	}
}

// bar draws a chance on its scale with the range.
func (p *sheetPen) bar(r ChanceRow, x, y, wide float64) {
	if p.dry {
		return
	}
	high := p.mm(0.7)
	y += p.mm(0.2)
	p.doc.SetFillColor(0x7d, 0x8c, 0x87)
	p.doc.Rect(x, y+high/2-0.1, wide, 0.2, "F")
	p.doc.SetFillColor(0xa9, 0xcb, 0xe6)
	p.doc.Rect(x+wide*r.Lo/100, y+high*0.15, wide*r.Width()/100, high*0.7, "F")
	p.doc.SetFillColor(0x15, 0x21, 0x1f)
	p.doc.Rect(x+wide*r.Mid/100, y, 0.5, high, "F")
}

// widths shares a width among columns: each gets its longest word, and the rest goes by
// what more its longest entry needs.
func (p *sheetPen) widths(rows [][]string, wide float64) []float64 {
	least, more := make([]float64, len(rows[0])), make([]float64, len(rows[0]))
	apart := p.mm(0.8)
	for i := range least {
		for n, r := range rows {
			p.font(weightOf(n), 1)
			for word := range strings.SplitSeq(draw.PDFWords(r[i]), " ") { // at blanks that may break
				least[i] = max(least[i], p.doc.GetStringWidth(word)+apart)
			}
			more[i] = max(more[i], p.doc.GetStringWidth(draw.PDFWords(r[i]))+apart)
		}
		more[i] -= least[i]
	}
	k := (wide - sum(least)) / max(sum(more), 1e-9)
	for i := range least {
		least[i] += more[i] * min(max(k, 0), 1)
	}
	if total := sum(least); total > wide { // the longest words are broken
		for i := range least {
			least[i] *= wide / total
		}
	}
	return least
}

// weightOf is the weight of the letters of a row: its heads are the first.
func weightOf(row int) string {
	if row == 0 {
		return "B"
	}
	return ""
}

// grid writes rows of cells; beside is called with the place of each row.
func (p *sheetPen) grid(rows [][]string, widths []float64, beside func(row int, y float64)) {
	high := p.mm(1.22)
	for n, r := range rows {
		p.font(weightOf(n), 1)
		x, lines := p.x, 1
		for i, cell := range r {
			split := p.split(begun(cell), widths[i]-p.mm(0.4))
			for k, line := range split {
				p.line(x, p.y+float64(k)*high, line, "L", widths[i], high)
			}
			lines = max(lines, len(split))
			x += widths[i]
		}
		if beside != nil {
			beside(n, p.y)
		}
		p.y += float64(lines)*high + p.mm(0.15)
	}
}

// begun is what stands in a cell, as a sentence begins.
func begun(words string) string {
	if words == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + words[size:]
}
