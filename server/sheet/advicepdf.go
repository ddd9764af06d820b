package sheet

import (
	"io"
	"time"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// The sheet of an advice, millimetres; its letters, points.
const (
	sheetMarginMM = 12.0
	sheetWideMM   = 210 - 2*sheetMarginMM
	sheetDeepMM   = 297 - 2*sheetMarginMM
	sheetGapMM    = 5.0 // between the columns
	sheetMostPt   = 9.0
	sheetLeastPt  = 5.5
	sheetStepPt   = 0.25
)

// AdvicePDF is a document of advices, one sheet of A4 each.
type AdvicePDF struct {
	doc *fpdf.Fpdf
	s   speaker
}

// NewAdvicePDF begins a document in a language. It bears no date: the same advices give the
// same bytes.
func NewAdvicePDF(c *say.Catalogue, l say.Lang) *AdvicePDF {
	doc := fpdf.New("P", "mm", "A4", "")
	doc.AddUTF8FontFromBytes(draw.PDFFont, "", goregular.TTF)
	doc.AddUTF8FontFromBytes(draw.PDFFont, "B", gobold.TTF)
	doc.SetCatalogSort(true)
	doc.SetCreationDate(time.Unix(0, 0).UTC()) // without one the present is written
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetLang(l.String())
	doc.SetMargins(sheetMarginMM, sheetMarginMM, sheetMarginMM)
	doc.SetAutoPageBreak(false, 0)
	doc.SetCellMargin(0)
	d := &AdvicePDF{doc, speaker{c, l}}
	doc.SetTitle(d.s.Say("advice.title"), true)
	return d
}

// Add puts an advice on a sheet of its own under the name of its point, in the largest
// letters that leave it there.
//
//   - Errors: [geo.Invalid] where it does not fit in letters that can be read, and those of
//     the document.
func (d *AdvicePDF) Add(name string, a advisor.Advice) error {
	advice := New(d.s.catalogue, d.s.lang, a)
	for pt := sheetMostPt; pt >= sheetLeastPt; pt -= sheetStepPt {
		trial := &sheetPen{doc: d.doc, pt: pt, dry: true}
		if d.lay(trial, name, advice); trial.y > sheetMarginMM+sheetDeepMM {
			continue
		}
		d.doc.AddPage()
		d.lay(&sheetPen{doc: d.doc, pt: pt}, name, advice)
		return d.doc.Error()
	}
	return geo.Fail(geo.Invalid, "sheet.AdvicePDF", geo.Say("predict.sheet-full", geo.With("value", geo.Text(name))), nil)
}

// Write writes the document.
func (d *AdvicePDF) Write(w io.Writer) error { return d.doc.Output(w) }

// lay writes one sheet: the verdict, two columns of what it rests on and what to do, and the
// cautions below.
func (d *AdvicePDF) lay(p *sheetPen, name string, a Sheet) {
	p.at(sheetMarginMM, sheetMarginMM, sheetWideMM)
	p.verdict(name, a, d.s.Say("screen.name"))
	p.columns(
		func() { p.chances(a.Chance) },
		func() { p.table(a.Water) },
		func() { p.table(a.Layers) },
		func() { p.table(a.Reasons) },
		func() { p.table(a.Plan) },
		func() { p.list(a.Quality) },
		func() { p.table(a.Evidence) },
	)
	p.heading(a.Cautions.Heading)
	var cautions []func()
	for _, line := range a.Cautions.Lines {
		cautions = append(cautions, func() { p.item(line) })
	}
	p.columns(cautions...)
	p.rule()
	for _, line := range a.Source.Lines {
		p.words(line, "", 0.85)
	}
}
