package intake

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"time"

	"waterstrike/geo"

	"github.com/xuri/excelize/v2"
)

const (
	// maxWorkbook bounds what a workbook unpacks to, bytes: a small file can unpack to more
	// than any computer holds.
	maxWorkbook = 256 << 20
	// headerSearch is how many rows may stand above the header.
	headerSearch = 30
)

type xlsxRows struct {
	book   *excelize.File
	sheet  string
	rows   *excelize.Rows
	at     int // number of the row before, from 1
	header []string
	styles map[int]bool // whether a cell style writes dates
	dates  map[cellAt]bool
	merged map[cellAt]cellAt
	above  map[cellAt]string // texts of merged cells met so far, by their first cell
	early  time.Time         // first day of the workbook's calendar
}

// cellAt is a cell by column and row, from 1.
type cellAt struct{ column, row int }

// openXLSX opens one sheet of a workbook (ECMA-376): its cached values, with dates told
// from numbers by their cell's style, and merged cells filled.
func openXLSX(files fs.FS, t Table) (Rows, error) {
	book, err := openBook(files, t.File)
	if err != nil {
		return nil, err
	}
	rows := &xlsxRows{book: book, styles: map[int]bool{}, dates: map[cellAt]bool{}, merged: map[cellAt]cellAt{}, above: map[cellAt]string{}}
	if err := rows.begin(t); err != nil {
		return nil, errors.Join(err, book.Close())
	}
	return rows, nil
}

func openBook(files fs.FS, name string) (*excelize.File, error) {
	file, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	book, err := excelize.OpenReader(file, excelize.Options{UnzipSizeLimit: maxWorkbook, UnzipXMLSizeLimit: maxWorkbook, RawCellValue: true})
	if err != nil {
		return nil, fmt.Errorf("it is no XLSX workbook, or unpacks to more than %d MB: save it again as XLSX, or its sheet as CSV: %w", maxWorkbook>>20, err)
	}
	return book, nil
}

// Sheets lists the sheets of a workbook (ECMA-376), in its order. It returns an error for
// what is no workbook.
func Sheets(files fs.FS, name string) ([]string, error) {
	book, err := openBook(files, name)
	if err != nil {
		return nil, err
	}
	return book.GetSheetList(), book.Close()
}

func (x *xlsxRows) begin(t Table) (err error) {
	if x.sheet, err = sheetOf(x.book.GetSheetList(), t.Sheet); err != nil {
		return err
	}
	if err := x.lookThrough(); err != nil {
		return err
	}
	if x.rows, err = x.book.Rows(x.sheet); err != nil {
		return err
	}
	x.early = time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
	if props, err := x.book.GetWorkbookProps(); err == nil && props.Date1904 != nil && *props.Date1904 {
		x.early = time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)
	}
	return x.findHeader(t)
}

// sheetOf picks a sheet by its name, by its number from 1, or the first.
func sheetOf(sheets []string, want string) (string, error) {
	if len(sheets) == 0 {
		return "", errors.New("it is no XLSX workbook: it has no sheets")
	}
	if want == "" {
		return sheets[0], nil
	}
	for _, s := range sheets {
		if strings.EqualFold(strings.TrimSpace(s), strings.TrimSpace(want)) {
			return s, nil
		}
	}
	if n, err := strconv.Atoi(want); err == nil && n >= 1 && n <= len(sheets) {
		return sheets[n-1], nil
	}
	return "", fmt.Errorf("it has no sheet %q; it has %s", want, strings.Join(sheets, ", "))
}

// maxMerged bounds the merged cells that are filled.
const maxMerged = 100000

func (x *xlsxRows) merge(ref string) error {
	first, last, _ := strings.Cut(ref, ":")
	c1, r1, err1 := excelize.CellNameToCoordinates(first)
	c2, r2, err2 := excelize.CellNameToCoordinates(last)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	if len(x.merged)+(c2-c1+1)*(r2-r1+1) > maxMerged {
		return fmt.Errorf("cells %s and others are merged into more than %d: unmerge them", ref, maxMerged)
	}
	for row := r1; row <= r2; row++ {
		for column := c1; column <= c2; column++ {
			x.merged[cellAt{column, row}] = cellAt{c1, r1}
		}
	}
	return nil
}

// findHeader reads down to the row of column names: the one that the table names, or the
// one among the first that holds most of the columns that the table asks for, and among
// such the first of the fullest.
func (x *xlsxRows) findHeader(t Table) error {
	top, err := x.top(t.HeaderRow)
	if err != nil {
		return err
	}
	best, at := -1, -1
	wanted := append([]string{}, columnsOf(t)...)
	for i, row := range top {
		if n := namesIn(row, wanted)*maxColumns + namesIn(row, nil); n > best && (t.HeaderRow == 0 || i == t.HeaderRow-1) {
			best, at = n, i
		}
	}
	if at < 0 || namesIn(top[at], nil) == 0 {
		return errEmpty
	}
	x.header = top[at]
	if err := x.rows.Close(); err != nil {
		return err
	}
	if x.rows, err = x.book.Rows(x.sheet); err != nil {
		return err
	}
	x.at = 0
	for x.at <= at {
		if _, err := x.next(); err != nil {
			return err
		}
	}
	return nil
}

// top reads the rows among which the header stands.
func (x *xlsxRows) top(headerRow int) ([][]string, error) {
	var top [][]string
	for len(top) < max(headerSearch, headerRow) {
		row, err := x.next()
		if err != nil {
			if notEOF(err) != nil {
				return nil, err
			}
			break
		}
		top = append(top, row)
	}
	return top, nil
}

// namesIn counts the wanted names of a row, or all its texts when asked for none.
func namesIn(row, wanted []string) int {
	n := 0
	for _, cell := range row {
		cell = strings.TrimSpace(cell)
		if cell != "" && (wanted == nil || slices.ContainsFunc(wanted, func(w string) bool { return strings.EqualFold(w, cell) })) {
			n++
		}
	}
	return n
}

func (x *xlsxRows) Header() []string { return x.header }

// Next returns the next row that holds anything.
func (x *xlsxRows) Next() ([]string, error) {
	for {
		row, err := x.next()
		if err != nil || slices.ContainsFunc(row, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			return row, err
		}
	}
}

func (x *xlsxRows) Close() error { return errors.Join(x.rows.Close(), x.book.Close()) }

// day writes the day of a serial number as ISO 8601; the time of day is left off.
func (x *xlsxRows) day(serial float64) (string, bool) {
	if !(serial >= 1 && serial < lastSerial+1) {
		return "", false
	}
	return geo.DateOf(x.early.AddDate(0, 0, int(serial))).String(), true
}
