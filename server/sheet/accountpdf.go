package sheet

import (
	"io"
	"slices"
	"strings"
	"time"

	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// The page of a PDF, millimetres and points.
const (
	pdfMarginMM  = 16.0
	pdfWidthMM   = 210 - 2*pdfMarginMM
	pdfBottomMM  = 297 - pdfMarginMM
	pdfLineMM    = 4.6
	pdfTextPt    = 9.5
	pdfTablePt   = 8.5
	pdfPartPt    = 13.0
	pdfTitlePt   = 18.0
	pdfPadMM     = 1.2
	pdfHeadingMM = 7.0
	pdfSmallMM   = pdfLineMM - 0.6
	pdfGapMM     = 6.0
	pdfHalfMM    = (pdfWidthMM - pdfGapMM) / 2
)

// ServedPDF writes an account as a PDF for A4. The same account gives the same bytes: it
// bears the day that it was asked for, not the day of printing.
func ServedPDF(w io.Writer, c *say.Catalogue, l say.Lang, a *season.Account) error {
	drawings, err := ServedDrawings(c, l, a)
	if err != nil {
		return err
	}
	return NewServed(c, l, a).pdf(w, speaker{c, l}, drawings, dayOn(a.Ask.On))
}

// dayOn is the first day of what a date says.
func dayOn(on geo.Date) time.Time {
	return time.Date(on.Year, time.Month(max(on.Month, 1)), max(on.Day, 1), 0, 0, 0, 0, time.UTC)
}

// WithoutRecords is the account without the list of records at its end.
func (t Account) WithoutRecords() Account {
	var parts []AccountPart
	for _, p := range t.Parts {
		if p.Key != "records" {
			parts = append(parts, p)
		}
	}
	t.Parts = parts
	return t
}

// pdfPage writes an account into a document.
type pdfPage struct {
	*fpdf.Fpdf
	links      map[string]int // by address within the account
	left, wide float64        // of the column that is written in, mm
}

// newPDFPage begins a document that numbers its pages.
func newPDFPage(s speaker, title, lang string, day time.Time) pdfPage {
	p := pdfPage{fpdf.New("P", "mm", "A4", ""), map[string]int{}, pdfMarginMM, pdfWidthMM}
	p.AddUTF8FontFromBytes(draw.PDFFont, "", goregular.TTF)
	p.AddUTF8FontFromBytes(draw.PDFFont, "B", gobold.TTF)
	p.SetCatalogSort(true)
	p.SetCreationDate(day)
	p.SetModificationDate(day)
	p.SetTitle(title, true)
	p.SetLang(lang)
	p.SetMargins(pdfMarginMM, pdfMarginMM, pdfMarginMM)
	p.SetAutoPageBreak(false, pdfMarginMM)
	p.SetCellMargin(0)
	p.SetFooterFunc(func() {
		p.SetXY(pdfMarginMM, pdfBottomMM+4)
		p.font("", pdfTablePt)
		p.CellFormat(pdfWidthMM, pdfLineMM, s.Say("served.page", say.With("n", say.Count(p.PageNo()))), "", 0, "R", false, 0, "")
	})
	return p
}

func (t Account) pdf(w io.Writer, s speaker, drawings []AccountDrawing, day time.Time) error {
	p := newPDFPage(s, t.Title, t.Lang, day)
	p.AddPage()
	p.words(t.Title, "B", pdfTitlePt, 9)
	p.Ln(2)
	p.list(t.Short)
	p.list(t.How)
	for _, part := range t.Parts {
		begins := 30.0
		if slices.ContainsFunc(drawings, func(d AccountDrawing) bool { return d.part == part.Key }) {
			begins = 110 // with its first drawing
		}
		p.room(begins)
		p.Ln(3)
		p.words(part.Heading, "B", pdfPartPt, pdfHeadingMM)
		var blocks []pdfBlock
		for _, d := range drawings {
			if d.part == part.Key {
				blocks = append(blocks, pdfBlock{drawing: &d})
			}
		}
		for _, table := range part.Tables {
			blocks = append(blocks, pdfBlock{table: table, records: part.Key == "records"})
		}
		if err := p.blocks(blocks); err != nil {
			return err
		}
	}
	p.list(t.Terms)
	p.list(t.Source)
	return p.Output(w)
}

func (p *pdfPage) font(weight string, size float64) {
	p.SetFont(draw.PDFFont, weight, size)
	p.SetTextColor(0x1f, 0x23, 0x28)
}

// room begins a new page where less than so much is left.
func (p *pdfPage) room(mm float64) {
	if p.GetY()+mm > pdfBottomMM {
		p.AddPage()
	}
}

// words writes a paragraph.
func (p *pdfPage) words(text, weight string, size, lineMM float64) {
	for _, line := range p.split(text, weight, size) {
		p.room(lineMM)
		p.font(weight, size)
		p.SetX(p.left)
		p.CellFormat(p.wide, lineMM, line, "", 1, "L", false, 0, "")
	}
}

// split breaks words into lines of the column.
func (p *pdfPage) split(text, weight string, size float64) []string {
	p.font(weight, size)
	return p.SplitText(draw.PDFWords(text), p.wide)
}

func (p *pdfPage) list(l Lines) {
	p.room(pdfHeadingMM + 2*pdfLineMM)
	p.words(l.Heading, "B", pdfTextPt+1.5, pdfHeadingMM)
	for _, line := range l.Lines {
		p.words("–\u00a0"+line, "", pdfTextPt, pdfLineMM)
	}
	p.Ln(2)
}

// table writes a table, its head again on every page; a short one stays together.
func (p *pdfPage) table(t Table) {
	const short, begins = 50, 25 // mm
	if high := p.tableHigh(t); high <= short {
		p.room(high)
	} else {
		p.room(begins)
	}
	p.words(t.Heading, "B", pdfTextPt, pdfHeadingMM-1)
	if t.Missing != "" {
		p.words(t.Missing, "", pdfTextPt, pdfLineMM)
	}
	if len(t.Rows) > 0 {
		widths := p.widths(t)
		head := heads(t)
		p.row(head, widths, "B")
		for _, r := range t.Rows {
			if p.GetY()+p.height(r, widths) > pdfBottomMM {
				p.AddPage()
				p.row(head, widths, "B")
			}
			p.row(r, widths, "")
		}
	}
	for _, n := range t.Notes {
		p.words(n, "", pdfTablePt, pdfSmallMM)
	}
	p.Ln(3)
}

// tableHigh is how far down a table goes, mm.
func (p *pdfPage) tableHigh(t Table) float64 {
	high := float64(len(p.split(t.Heading, "B", pdfTextPt)))*(pdfHeadingMM-1) + 3
	if t.Missing != "" {
		high += float64(len(p.split(t.Missing, "", pdfTextPt))) * pdfLineMM
	}
	if len(t.Rows) > 0 {
		widths := p.widths(t)
		p.font("B", pdfTablePt)
		high += p.height(heads(t), widths)
		p.font("", pdfTablePt)
		for _, r := range t.Rows {
			high += p.height(r, widths)
		}
	}
	for _, n := range t.Notes {
		high += float64(len(p.split(n, "", pdfTablePt))) * pdfSmallMM
	}
	return high
}

// heads are the heads of a table as a row.
func heads(t Table) []Cell {
	out := make([]Cell, len(t.Columns))
	for i, c := range t.Columns {
		out[i].Words = c
	}
	return out
}

// widths shares the column among those of a table by what they hold: where that is too
// much, all that want more than some width get that width.
func (p *pdfPage) widths(t Table) []float64 {
	out := p.wanted(t)
	for most := pdfWidthMM; sum(out) > p.wide && most > p.wide/float64(len(out)); most-- {
		for i := range out {
			out[i] = min(out[i], most)
		}
	}
	return out
}

// wanted is how wide the columns of a table would be, the widest no more than three times an
// equal share of the page.
func (p *pdfPage) wanted(t Table) []float64 {
	out := make([]float64, len(t.Columns))
	most := 3 * pdfWidthMM / float64(len(out))
	p.font("B", pdfTablePt)
	for i, c := range t.Columns {
		out[i] = p.GetStringWidth(draw.PDFWords(c)) / 3 // a head of some lines, not a tower
		for word := range strings.FieldsSeq(c) {
			out[i] = max(out[i], p.GetStringWidth(draw.PDFWords(word)))
		}
	}
	p.font("", pdfTablePt)
	for _, r := range t.Rows {
		for i, c := range r {
			out[i] = max(out[i], p.GetStringWidth(draw.PDFWords(c.Words)))
		}
	}
	for i := range out {
		out[i] = min(out[i], most) + 2*pdfPadMM + 1
	}
	return out
}

func (p *pdfPage) height(r []Cell, widths []float64) float64 {
	lines := 1
	for i, c := range r {
		lines = max(lines, len(p.SplitText(draw.PDFWords(c.Words), widths[i]-2*pdfPadMM)))
	}
	return float64(lines)*pdfSmallMM + pdfPadMM
}

// row writes the cells of one row beside each other, a line under them.
func (p *pdfPage) row(r []Cell, widths []float64, weight string) {
	p.font(weight, pdfTablePt)
	x, y := p.left, p.GetY()
	high := p.height(r, widths)
	for i, c := range r {
		for k, line := range p.SplitText(draw.PDFWords(c.Words), widths[i]-2*pdfPadMM) {
			p.SetXY(x, y+float64(k)*pdfSmallMM)
			p.CellFormat(widths[i], pdfSmallMM, line, "", 0, "L", false, p.link(c.Href), "")
		}
		x += widths[i]
	}
	p.SetDrawColor(0xc8, 0xcd, 0xd3)
	p.SetLineWidth(0.2)
	p.SetDashPattern(nil, 0)
	p.Line(p.left, y+high-pdfPadMM/2, x, y+high-pdfPadMM/2)
	p.SetXY(p.left, y+high)
}

// link is the number of an address within the document, 0 for none.
func (p *pdfPage) link(href string) int {
	if href == "" {
		return 0
	}
	if p.links[href] == 0 {
		p.links[href] = p.AddLink()
	}
	return p.links[href]
}

// records lists records in a paragraph, so that many take little paper.
func (p *pdfPage) records(t Table) {
	p.room(15)
	p.SetLink(p.link("#"+t.ID), p.GetY(), -1)
	p.words(t.Heading, "B", pdfTablePt, pdfLineMM)
	names := make([]string, len(t.Rows))
	for i, r := range t.Rows {
		if names[i] = r[0].Words; names[i] == "" {
			names[i] = r[1].Words
		}
	}
	p.words(strings.Join(append(names, t.Notes...), ", "), "", pdfTablePt-1, pdfLineMM-1)
	p.Ln(1.5)
}
