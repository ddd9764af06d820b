package intake

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"io/fs"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
)

// encodings are the character sets by name; UTF-8 needs no decoder.
var encodings = map[string]encoding.Encoding{
	"utf-8":        nil,
	"windows-1252": charmap.Windows1252,
	"cp850":        charmap.CodePage850,
}

type csvRows struct {
	file   fs.File
	reader *csv.Reader
	header []string
}

// openCSV opens comma- or otherwise delimited text (RFC 4180).
func openCSV(files fs.FS, t Table) (Rows, error) {
	file, err := files.Open(t.File)
	if err != nil {
		return nil, err
	}
	rows := &csvRows{file: file, reader: csv.NewReader(decoded(file, t.Encoding))}
	rows.reader.ReuseRecord = true
	rows.reader.FieldsPerRecord = -1 // short and long rows are told apart by the caller
	if t.Delimiter != "" {
		rows.reader.Comma = []rune(t.Delimiter)[0]
	}
	if t.Comment != "" {
		rows.reader.Comment = []rune(t.Comment)[0]
	}
	header, err := rows.reader.Read()
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	rows.header = append([]string(nil), header...)
	return rows, nil
}

// decoded reads text of the named encoding as UTF-8, without a byte order mark.
func decoded(r io.Reader, name string) io.Reader {
	if e := encodings[name]; e != nil {
		return e.NewDecoder().Reader(r)
	}
	buffered := bufio.NewReader(r)
	mark := []byte("\xef\xbb\xbf")
	if head, err := buffered.Peek(len(mark)); err == nil && bytes.Equal(head, mark) {
		_, _ = buffered.Discard(len(mark)) // just peeked at
	}
	return buffered
}

func (c *csvRows) Header() []string { return c.header }

func (c *csvRows) Next() ([]string, error) {
	row, err := c.reader.Read()
	var bad *csv.ParseError
	if errors.As(err, &bad) {
		return nil, &RowError{bad}
	}
	return row, err
}

func (c *csvRows) Close() error { return c.file.Close() }
