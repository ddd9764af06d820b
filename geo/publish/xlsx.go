package publish

import (
	"context"
	"io"
	"strings"
	"unicode/utf16"

	"waterstrike/geo"
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
// Numbers are numbers, with as many digits as bring back the same one, and yes or no is
// TRUE or FALSE; dates stay text, because the records know some to the month or year alone.
// No cell is a formula. A spreadsheet that saves the workbook again may keep 15 digits.
//
//   - Errors: those of the source and of w; [geo.Invalid] where a table has more rows, or a
//     cell more characters, than a sheet can hold.
//   - Checked by: TestXLSXEqualsCSV, TestXLSXExplainsEveryColumn, TestXLSXInAnotherReader,
//     TestXLSXInAnOfficeProgram, TestComesBack; for the whole demo, testdata/script/demo.txtar of cmd/waterstrike.
func XLSX(ctx context.Context, w io.Writer, src Source, explain func(geo.Code) string) error {
	names := []string{columnsSheet}
	for _, t := range tables() {
		names = append(names, t.name)
	}
	book, err := newWorkbook(w, names)
	if err != nil {
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
	return book.parts.Close()
}

// explained writes the sheet of columns.
func (b *workbook) explained(all []table, explain func(geo.Code) string) error {
	s, err := b.begin([]string{
		explain("workbook.sheet"), explain("workbook.column"), explain("workbook.meaning"), explain("workbook.holds"),
	}, 16, 18, 36, 48)
	if err != nil {
		return err
	}
	for _, t := range all {
		for _, h := range t.heads {
			if err := s.put([]value{wordsOf(t.name), wordsOf(h.name), wordsOf(explain(h.field())), wordsOf(explain(h.holds()))}, plain); err != nil {
				return err
			}
		}
	}
	return s.end()
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

func (b *workbook) table(ctx context.Context, t table, src Source) error {
	heads := make([]string, len(t.heads))
	for i, h := range t.heads {
		heads[i] = h.name
	}
	s, err := b.begin(heads)
	if err != nil {
		return err
	}
	err = t.each(ctx, src, func(cells []value) error {
		for i, v := range cells {
			if len(v.text) > mostChars && len(utf16.Encode([]rune(v.text))) > mostChars {
				return geo.Fail(geo.Invalid, "publish.XLSX", geo.Say("publish.cell-too-long",
					geo.With("id", geo.Text(cells[0].text)), geo.With("column", geo.Ref(t.heads[i].field())), geo.With("total", geo.Count(mostChars))), nil)
			}
		}
		return s.put(cells, plain)
	})
	if err != nil {
		return err
	}
	return s.end()
}
