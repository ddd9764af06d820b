package intake

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
)

const (
	maxColumns = 16384   // of a table: as many as a spreadsheet has
	maxRecord  = 4 << 20 // bytes of one row
)

var errEmpty = errors.New("it is empty: a table begins with a row of column names")

type csvRows struct {
	file   fs.File
	limit  *rowLimit
	reader *csv.Reader
	header []string
	reading
}

// openCSV opens comma- or otherwise delimited text (RFC 4180). What the table does not
// say of its encoding and delimiter is guessed, and the guess stated.
func openCSV(files fs.FS, t Table) (Rows, error) {
	how, err := howWritten(files, t)
	if err != nil {
		return nil, err
	}
	file, err := files.Open(t.File)
	if err != nil {
		return nil, err
	}
	rows := &csvRows{file: file, limit: &rowLimit{from: decoded(file, how.Encoding)}, reading: how}
	rows.reader = csv.NewReader(rows.limit)
	rows.reader.ReuseRecord = true
	rows.reader.FieldsPerRecord = -1 // short and long rows are told apart by the caller
	rows.reader.Comma = []rune(how.Delimiter)[0]
	if t.Comment != "" {
		rows.reader.Comment = []rune(t.Comment)[0]
	}
	rows.header, err = readHeader(rows.reader)
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return rows, nil
}

func readHeader(r *csv.Reader) ([]string, error) {
	header, err := r.Read()
	switch {
	case errors.Is(err, io.EOF):
		return nil, errEmpty
	case err == nil && len(header) > maxColumns:
		return nil, tooWide(len(header))
	}
	return append([]string(nil), header...), err
}

// reading is how a text was read where the mapping does not say.
type reading struct {
	Delimiter string
	Encoding  string
	Guessed   bool     // the encoding is a guess
	Preview   []string // lines that show it
}

func (r reading) howRead() reading { return r }

// howWritten looks at a text: through all of it where the encoding is not given, and at
// its first lines where the delimiter is not.
func howWritten(files fs.FS, t Table) (reading, error) {
	how := reading{Delimiter: t.Delimiter, Encoding: t.Encoding}
	if how.Encoding == "" {
		file, err := files.Open(t.File)
		if err != nil {
			return how, err
		}
		set, err := charsetOf(file)
		if err := errors.Join(err, file.Close()); err != nil {
			return how, err
		}
		how.Encoding, how.Guessed, how.Preview = set.name, set.guessed, set.preview
	}
	if how.Delimiter != "" {
		return how, nil
	}
	lines, err := firstLines(files, t, how.Encoding)
	how.Delimiter = delimiterOf(lines)
	return how, err
}

// firstLines reads the first lines that are no comments.
func firstLines(files fs.FS, t Table, encoding string) ([]string, error) {
	file, err := files.Open(t.File)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	in := bufio.NewScanner(decoded(file, encoding))
	in.Buffer(nil, maxRecord)
	var lines []string
	for len(lines) < sampleLines && in.Scan() {
		if line := in.Text(); strings.TrimSpace(line) != "" && (t.Comment == "" || !strings.HasPrefix(line, t.Comment)) {
			lines = append(lines, line)
		}
	}
	if errors.Is(in.Err(), bufio.ErrTooLong) {
		return nil, errLongRow
	}
	return lines, in.Err()
}

var errLongRow = fmt.Errorf("a row runs on for more than %d bytes: a quote that is never closed, or no table at all", maxRecord)

// rowLimit stops a row that would never end.
type rowLimit struct {
	from io.Reader
	n    int // bytes since the last row
}

func (l *rowLimit) Read(p []byte) (int, error) {
	if l.n > maxRecord {
		return 0, errLongRow
	}
	n, err := l.from.Read(p)
	l.n += n
	return n, err
}

func (c *csvRows) Header() []string { return c.header }

func (c *csvRows) Next() ([]string, error) {
	c.limit.n = 0
	row, err := c.reader.Read()
	var bad *csv.ParseError
	if errors.As(err, &bad) && !errors.Is(err, errLongRow) {
		return nil, &RowError{bad}
	}
	return row, err
}

func (c *csvRows) Close() error { return c.file.Close() }
