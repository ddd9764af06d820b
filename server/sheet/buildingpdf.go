package sheet

import (
	"io"
	"time"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// BuildingPDF writes the building sheet of an advice as a PDF for A4, as it goes out with the
// crew: the cautions first, the expected ground drawn below the well. Where each value comes from, pages
// for the desk, stays on the page and in the text. It bears no date: the same advice gives the
// same bytes.
//
//   - Errors: those of the drawing and of the document.
func BuildingPDF(w io.Writer, c *say.Catalogue, l say.Lang, a advisor.Advice) error {
	s, b := speaker{c, l}, NewBuilding(c, l, a)
	p := newPDFPage(s, b.Title, b.Lang, time.Unix(0, 0).UTC())
	p.AddPage()
	p.words(b.Title, "B", pdfTitlePt, 9)
	p.Ln(1)
	for _, line := range b.Asked {
		p.words(line, "", pdfTextPt, pdfLineMM)
	}
	p.Ln(2)
	for _, t := range b.Parts {
		p.part(t)
		if a.Plan == nil || t.Heading != s.Say("building.heading.well") {
			continue
		}
		scene, drawn, err := s.column(a)
		if err != nil {
			return geo.Fail(geo.Internal, "sheet.BuildingPDF", geo.Message{}, err)
		}
		if drawn {
			if err := p.drawing(AccountDrawing{Scene: scene}); err != nil {
				return err
			}
		}
	}
	if b.Sources != nil {
		p.words(s.Say("building.sources-elsewhere"), "", pdfTablePt, pdfLineMM)
	}
	return p.Output(w)
}

// part writes a table, its notes as a list in the size of the text: a crew reads them at arm's
// length.
func (p *pdfPage) part(t Table) {
	notes := t.Notes
	t.Notes = nil
	if len(t.Rows) > 0 || t.Missing != "" {
		p.table(t)
		p.SetY(p.GetY() - 2)
	} else {
		p.room(pdfHeadingMM + 2*pdfLineMM)
		p.words(t.Heading, "B", pdfTextPt+1.5, pdfHeadingMM)
	}
	for _, note := range notes {
		p.words("–\u00a0"+note, "", pdfTextPt, pdfLineMM)
	}
	p.Ln(3)
}
