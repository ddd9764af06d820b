package publish

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"waterstrike/geo"

	"github.com/xuri/excelize/v2"
)

// workbook is one being written (ECMA-376 part 1 for what is in it, part 2 for the package),
// part by part straight into its writer. By hand, because the library that reads workbooks
// cuts numbers to 15 digits when it writes them.
type workbook struct {
	parts *zip.Writer
	names []string // of sheets
	begun int      // sheets
}

const (
	mainSpace = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	linkSpace = "http://schemas.openxmlformats.org/package/2006/relationships"
	linkKinds = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	partKinds = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// Styles of cells, by their place in stylesPart.
const (
	plain = 0
	bold  = 1
)

// stylesPart has two fonts; a second fill is what programs expect to find.
const stylesPart = `<styleSheet xmlns="` + mainSpace + `"><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font>` +
	`<font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill>` +
	`<fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders>` +
	`<cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf/><xf fontId="1" applyFont="1"/></cellXfs></styleSheet>`

// newWorkbook writes all parts but the sheets.
func newWorkbook(w io.Writer, names []string) (*workbook, error) {
	b := &workbook{parts: zip.NewWriter(w), names: names}
	var kinds, sheets, links strings.Builder
	for i, name := range names {
		fmt.Fprintf(&kinds, `<Override PartName="/%s" ContentType="%sworksheet+xml"/>`, sheetPart(i), partKinds)
		fmt.Fprintf(&sheets, `<sheet name="%s" sheetId="%d" r:id="r%d"/>`, name, i+1, i+1)
		fmt.Fprintf(&links, `<Relationship Id="r%d" Type="%s/worksheet" Target="/%s"/>`, i+1, linkKinds, sheetPart(i))
	}
	for _, part := range []struct{ name, text string }{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
			`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="` + partKinds + `sheet.main+xml"/>` +
			`<Override PartName="/xl/styles.xml" ContentType="` + partKinds + `styles+xml"/>` + kinds.String() + `</Types>`},
		{"_rels/.rels", `<Relationships xmlns="` + linkSpace + `"><Relationship Id="r1" Type="` + linkKinds + `/officeDocument" Target="/xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook xmlns="` + mainSpace + `" xmlns:r="` + linkKinds + `"><bookViews><workbookView/></bookViews><sheets>` + sheets.String() + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + linkSpace + `">` + links.String() +
			`<Relationship Id="styles" Type="` + linkKinds + `/styles" Target="/xl/styles.xml"/></Relationships>`},
		{"xl/styles.xml", stylesPart},
	} {
		out, err := b.parts.Create(part.name)
		if err != nil {
			return nil, err
		}
		if _, err := io.WriteString(out, xml.Header+part.text); err != nil {
			return nil, err
		}
	}
	return b, nil
}

func sheetPart(i int) string { return fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1) }

// sheet is one being written, row by row.
type sheet struct {
	out  *bufio.Writer
	name string
	rows int
}

// begin starts the next sheet, whose first row stays in sight. A sheet ends before the next begins.
func (b *workbook) begin(heads []string, widths ...float64) (*sheet, error) {
	part, err := b.parts.Create(sheetPart(b.begun))
	if err != nil {
		return nil, err
	}
	s := &sheet{out: bufio.NewWriter(part), name: b.names[b.begun]}
	b.begun++
	selected := ""
	if b.begun == 1 {
		selected = ` tabSelected="1"`
	}
	fmt.Fprintf(s.out, xml.Header+`<worksheet xmlns="%s"><sheetViews><sheetView%s workbookViewId="0">`+
		`<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>`, mainSpace, selected)
	if len(widths) > 0 {
		s.out.WriteString("<cols>")
		for i, width := range widths {
			fmt.Fprintf(s.out, `<col min="%d" max="%d" width="%g" customWidth="1"/>`, i+1, i+1, width)
		}
		s.out.WriteString("</cols>")
	}
	s.out.WriteString("<sheetData>")
	row := make([]value, len(heads))
	for i, h := range heads {
		row[i] = wordsOf(h)
	}
	return s, s.put(row, bold)
}

// put writes a row. What the writer refused is told at the end of the sheet.
func (s *sheet) put(row []value, style int) error {
	if s.rows++; s.rows > mostRows {
		return geo.Fail(geo.Invalid, "publish.XLSX", geo.Say("publish.too-many-rows", geo.With("file", geo.Text(s.name)), geo.With("total", geo.Count(mostRows))), nil)
	}
	fmt.Fprintf(s.out, `<row r="%d">`, s.rows)
	for i, v := range row {
		if v.kind == missing {
			continue
		}
		at, err := excelize.CoordinatesToCellName(i+1, s.rows)
		if err != nil {
			return err
		}
		fmt.Fprintf(s.out, `<c r="%s" s="%d"`, at, style)
		v.sheetCell(s.out)
	}
	_, err := s.out.WriteString("</row>")
	return err
}

// sheetCell writes the rest of a cell: its kind and what it holds.
func (v value) sheetCell(out *bufio.Writer) {
	switch v.kind {
	case number:
		fmt.Fprintf(out, `><v>%s</v></c>`, strconv.FormatFloat(v.number, 'f', -1, 64))
	case yesNo:
		fmt.Fprintf(out, ` t="b"><v>%g</v></c>`, v.number)
	default:
		out.WriteString(` t="inlineStr"><is><t xml:space="preserve">`)
		xml.EscapeText(out, []byte(sheetText(v.text)))
		out.WriteString(`</t></is></c>`)
	}
}

// unwritable are the characters that XML cannot hold (XML 1.0, section 2.2), and what might
// be read as the sign for one.
var unwritable = regexp.MustCompile(`[\x00-\x08\x0B\x0C\x0E-\x1F\x{FFFE}\x{FFFF}]|_x[0-9A-Fa-f]{4}`)

// sheetText writes such a character as _xHHHH_, and the underscore before what only looks
// like it as such a sign too (ECMA-376 part 1, 22.9.2.19).
func sheetText(text string) string {
	return unwritable.ReplaceAllStringFunc(text, func(found string) string {
		if strings.HasPrefix(found, "_x") {
			return "_x005F" + found
		}
		return fmt.Sprintf("_x%04X_", []rune(found)[0])
	})
}

func (s *sheet) end() error {
	if _, err := s.out.WriteString("</sheetData></worksheet>"); err != nil {
		return err
	}
	return s.out.Flush()
}
