package publish

import (
	"archive/zip"
	"cmp"
	"context"
	"errors"
	"io"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"waterstrike/geo"

	"github.com/xuri/excelize/v2"
)

// XLSXType is the media type of what [XLSX] writes (ECMA-376).
const XLSXType = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// What a sheet can hold (ECMA-376; the limits are those of the programs that open it).
const (
	mostRows  = 1_048_576
	mostChars = 32_767
)

// columnsSheet is the sheet that explains the others.
const columnsSheet = "columns"

// XLSX writes a workbook with the tables of [CSVFiles], a sheet each, after a sheet that
// explains their columns in the words that explain gives for codes: field.CODE for a
// column, workbook.holds-CODE for what its cells are, workbook.CODE for the heads.
// Numbers are numbers and yes or no is TRUE or FALSE; dates stay text, because the records
// know some to the month or year alone. No cell is a formula. Numbers keep 15 digits, as
// spreadsheets do, and characters that XML cannot hold become U+FFFD: what must come back
// to the last bit goes out as CSV, GeoJSON or GeoPackage.
//
//   - Errors: those of the source and of w; [geo.Invalid] where a table has more rows, or a
//     cell more characters, than a sheet can hold.
//   - Checked by: TestXLSXEqualsCSV, TestXLSXExplainsEveryColumn, TestXLSXInAnotherReader.
func XLSX(ctx context.Context, w io.Writer, src Source, explain func(geo.Code) string) (err error) {
	f := excelize.NewFile()
	defer func() { err = errors.Join(err, f.Close()) }()
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	book := workbook{f, bold}
	if err := f.SetSheetName("Sheet1", columnsSheet); err != nil {
		return err
	}
	if err := book.explained(tables(), explain); err != nil {
		return err
	}
	for _, t := range tables() {
		if err := book.table(ctx, t, src); err != nil {
			return err
		}
	}
	return inOrder(f, w)
}

// inOrder writes a workbook with its parts in order of name: the library writes streamed
// sheets in the order of a map, and the same records are to give the same bytes.
func inOrder(f *excelize.File, w io.Writer) (err error) {
	draft, err := os.CreateTemp("", "workbook-*.xlsx")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, draft.Close(), os.Remove(draft.Name())) }()
	if err := f.Write(draft); err != nil {
		return err
	}
	size, err := draft.Seek(0, io.SeekEnd)
	if err != nil {
		return err
	}
	parts, err := zip.NewReader(draft, size)
	if err != nil {
		return err
	}
	slices.SortFunc(parts.File, func(a, b *zip.File) int { return cmp.Compare(a.Name, b.Name) })
	out := zip.NewWriter(w)
	for _, part := range parts.File {
		if err := out.Copy(part); err != nil {
			return err
		}
	}
	return out.Close()
}

// workbook is one being written.
type workbook struct {
	f    *excelize.File
	bold int // style of heads
}

// sheet is one being written, row by row.
type sheet struct {
	out  *excelize.StreamWriter
	name string
	rows int
}

// begin starts a sheet whose first row stays in sight.
func (b workbook) begin(name string, heads []string, widths ...float64) (*sheet, error) {
	out, err := b.f.NewStreamWriter(name)
	if err != nil {
		return nil, err
	}
	for i, width := range widths {
		if err := out.SetColWidth(i+1, i+1, width); err != nil {
			return nil, err
		}
	}
	if err := out.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return nil, err
	}
	row := make([]any, len(heads))
	for i, h := range heads {
		row[i] = excelize.Cell{StyleID: b.bold, Value: h}
	}
	s := &sheet{out: out, name: name}
	return s, s.put(row)
}

func (s *sheet) put(row []any) error {
	if s.rows++; s.rows > mostRows {
		return geo.Fail(geo.Invalid, "publish.XLSX", geo.Say("publish.too-many-rows", geo.With("file", geo.Text(s.name)), geo.With("total", geo.Count(mostRows))), nil)
	}
	at, err := excelize.CoordinatesToCellName(1, s.rows)
	if err != nil {
		return err
	}
	return s.out.SetRow(at, row)
}

// explained writes the sheet of columns.
func (b workbook) explained(all []table, explain func(geo.Code) string) error {
	s, err := b.begin(columnsSheet, []string{
		explain("workbook.sheet"), explain("workbook.column"), explain("workbook.meaning"), explain("workbook.holds"),
	}, 16, 18, 36, 48)
	if err != nil {
		return err
	}
	for _, t := range all {
		for _, h := range t.heads {
			if err := s.put([]any{t.name, h.name, explain(h.field()), explain(h.holds())}); err != nil {
				return err
			}
		}
	}
	return s.out.Flush()
}

// field is the code of what a column means.
func (h head) field() geo.Code { return geo.Code("field." + strings.ReplaceAll(h.name, "_", "-")) }

// holds is the code of what its cells are.
func (h head) holds() geo.Code {
	switch h.kind {
	case number:
		return "workbook.holds-number"
	case yesNo:
		return "workbook.holds-yes-no"
	case months:
		return "workbook.holds-months"
	case raw:
		return "workbook.holds-json"
	case code:
		return "workbook.holds-code"
	}
	return "workbook.holds-words"
}

func (b workbook) table(ctx context.Context, t table, src Source) error {
	if _, err := b.f.NewSheet(t.name); err != nil {
		return err
	}
	heads := make([]string, len(t.heads))
	for i, h := range t.heads {
		heads[i] = h.name
	}
	s, err := b.begin(t.name, heads)
	if err != nil {
		return err
	}
	row := make([]any, len(heads))
	err = t.each(ctx, src, func(cells []value) error {
		for i, v := range cells {
			if utf8.RuneCountInString(v.text) > mostChars {
				return geo.Fail(geo.Invalid, "publish.XLSX", geo.Say("publish.cell-too-long",
					geo.With("id", geo.Text(cells[0].text)), geo.With("column", geo.Ref(t.heads[i].field())), geo.With("total", geo.Count(mostChars))), nil)
			}
			row[i] = v.sheetCell()
		}
		return s.put(row)
	})
	if err != nil {
		return err
	}
	return s.out.Flush()
}

// sheetCell is the value as a cell of a sheet; nil is an empty one.
func (v value) sheetCell() any {
	switch v.kind {
	case missing:
		return nil
	case number:
		return v.number
	case yesNo:
		return v.number == 1
	}
	return v.text
}
