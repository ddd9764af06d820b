package intake

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// Rows is a source of rows: a header, then records. A format of files is one
// implementation.
type Rows interface {
	// Header returns the column names.
	Header() []string
	// Next returns the next row, valid until the call after it; io.EOF at the end, a
	// [RowError] for a row that cannot be read but leaves the rest readable.
	Next() ([]string, error)
	// Close releases the file.
	Close() error
}

// RowError is one unreadable row.
type RowError struct{ Err error }

// Error describes the row's fault.
func (e *RowError) Error() string { return fmt.Sprintf("intake: unreadable row: %v", e.Err) }

// Unwrap returns the cause.
func (e *RowError) Unwrap() error { return e.Err }

// formats are the file formats by name: each opens the file of a table.
var formats = map[string]func(fs.FS, Table) (Rows, error){
	"csv":     openCSV,
	"geojson": openGeoJSON,
	"gpkg":    openGPKG,
	"xlsx":    openXLSX,
}

// formatByName tells the format of files by the end of their name; any other is a text.
var formatByName = map[string]string{".xlsx": "xlsx", ".xlsm": "xlsx", ".geojson": "geojson", ".json": "geojson", ".gpkg": "gpkg"}

func formatOf(t Table) string {
	if t.Format != "" {
		return t.Format
	}
	return cmp.Or(formatByName[strings.ToLower(path.Ext(t.File))], "csv")
}

// Open opens the rows of a table's file, in its format; it looks at what the table says of
// the file alone.
func Open(files fs.FS, t Table) (Rows, error) { return formats[formatOf(t)](files, t) }
