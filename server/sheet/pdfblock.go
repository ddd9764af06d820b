package sheet

import "waterstrike/ui/draw"

// pdfBlock is a drawing or a table of an account on paper.
type pdfBlock struct {
	drawing *AccountDrawing
	table   Table
	records bool
}

// blocks writes blocks in their order, two beside each other where both are narrow.
func (p *pdfPage) blocks(all []pdfBlock) error {
	for len(all) > 0 {
		n, err := 1, error(nil)
		if len(all) > 1 && p.beside(all[0], all[1]) {
			n, err = 2, p.pair(all[0], all[1])
		} else {
			err = p.block(all[0])
		}
		if err != nil {
			return err
		}
		all = all[n:]
	}
	return nil
}

// beside tells whether two blocks go beside each other: not where that would leave much of a
// page empty that tables by themselves would fill.
func (p *pdfPage) beside(a, b pdfBlock) bool {
	const much = 60 // mm
	if !p.narrow(a) || !p.narrow(b) {
		return false
	}
	left := pdfBottomMM - p.GetY()
	return a.drawing != nil || left < much || p.pairHigh(a, b) <= left
}

// narrow tells whether a block has room in half of the page.
func (p *pdfPage) narrow(b pdfBlock) bool {
	switch {
	case b.records:
		return false
	case b.drawing != nil:
		return b.drawing.WidthMM*smallest <= pdfHalfMM
	}
	return len(b.table.Rows) > 0 && sum(p.wanted(b.table)) <= pdfHalfMM && p.high(b) <= pdfBottomMM-pdfMarginMM
}

// smallest is by how much a drawing may be reduced so that another stands beside it.
const smallest = 0.9

// pair writes two blocks beside each other, both on one page.
// The room is taken for both, so that neither begins a page of its own.
func (p *pdfPage) pair(a, b pdfBlock) error {
	left, wide, high := p.left, p.wide, p.pairHigh(a, b)
	p.room(high)
	y := p.GetY()
	p.wide = pdfHalfMM
	err := p.block(a)
	if err == nil {
		p.left += pdfHalfMM + pdfGapMM
		p.SetXY(p.left, y)
		err = p.block(b)
	}
	p.left, p.wide = left, wide
	p.SetXY(left, y+high)
	return err
}

func (p *pdfPage) pairHigh(a, b pdfBlock) float64 {
	wide := p.wide
	p.wide = pdfHalfMM
	high := max(p.high(a), p.high(b))
	p.wide = wide
	return high
}

// high is how far down a block goes in the column, mm.
func (p *pdfPage) high(b pdfBlock) float64 {
	if b.drawing == nil {
		return p.tableHigh(b.table)
	}
	lines := len(p.split(b.drawing.Desc+b.drawing.aside, "", pdfTablePt))
	return b.drawing.HeightMM*p.scale(*b.drawing) + 3 + float64(lines)*pdfSmallMM
}

func (p *pdfPage) block(b pdfBlock) error {
	switch {
	case b.drawing != nil:
		return p.drawing(*b.drawing)
	case b.records:
		p.records(b.table)
	default:
		p.table(b.table)
	}
	return nil
}

// scale is by how much a drawing is reduced to fit the column.
func (p *pdfPage) scale(d AccountDrawing) float64 { return min(1, p.wide/d.WidthMM) }

func (p *pdfPage) drawing(d AccountDrawing) error {
	scale := p.scale(d)
	p.room(p.high(pdfBlock{drawing: &d}))
	at := draw.Point{X: p.left, Y: p.GetY()}
	p.TransformBegin()
	p.TransformScale(100*scale, 100*scale, at.X, at.Y)
	err := d.PDF(p.Fpdf, at)
	p.TransformEnd()
	if err != nil {
		return err
	}
	p.SetDashPattern(nil, 0)
	p.SetXY(p.left, at.Y+d.HeightMM*scale+1)
	p.words(d.Desc+d.aside, "", pdfTablePt, pdfSmallMM)
	p.Ln(2)
	return nil
}
