package intake

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf "golang.org/x/text/encoding/unicode"
)

// encodings are the character sets by name; UTF-8 needs no decoder.
var encodings = map[string]encoding.Encoding{
	"utf-8":        nil,
	"utf-16":       utf.UTF16(utf.LittleEndian, utf.UseBOM),
	"windows-1252": charmap.Windows1252,
	"cp850":        charmap.CodePage850,
}

// maxPreview bounds the lines that show a guess of the encoding.
const maxPreview = 5

// previewBytes bounds each of them.
const previewBytes = 120

var errBinary = errors.New("it holds bytes that no text has: not a table of text; give its format, or save it as CSV")

// charset is the encoding of a text, and the lines that tell a guess from another.
type charset struct {
	name    string
	guessed bool
	preview []string // lines that are not UTF-8, read as guessed
}

// charsetOf tells the encoding of a text: its byte order mark, UTF-8 when every byte of it
// fits, or else whichever of windows-1252 and cp850 gives words; the latter is a guess
// that a person must confirm.
func charsetOf(r io.Reader) (charset, error) {
	in := bufio.NewReaderSize(r, 1<<16)
	if head, _ := in.Peek(2); bytes.Equal(head, []byte("\xff\xfe")) || bytes.Equal(head, []byte("\xfe\xff")) {
		return charset{name: "utf-16"}, nil
	}
	var odd [][]byte
	for {
		line, err := in.ReadSlice('\n')
		if bytes.IndexByte(line, 0) >= 0 {
			return charset{}, errBinary
		}
		if len(odd) < maxPreview && !utf8.Valid(whole(line, err)) {
			odd = append(odd, bytes.Clone(line[:min(len(line), 1<<12)]))
		}
		if err != nil && !errors.Is(err, bufio.ErrBufferFull) {
			return settle(odd), notEOF(err)
		}
	}
}

// whole cuts the letter that the end of the buffer falls into; what is cut is at the
// start of the next piece, where it would look odd, so that the piece is left whole.
func whole(line []byte, err error) []byte {
	if !errors.Is(err, bufio.ErrBufferFull) {
		return line
	}
	return nil // a line of 64 kB is no line of a table: the reader of rows says so
}

func notEOF(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

func settle(odd [][]byte) charset {
	if len(odd) == 0 {
		return charset{name: "utf-8"}
	}
	best, name := -1, ""
	for _, candidate := range []string{"windows-1252", "cp850"} {
		if n := likeWords(inCharset(candidate, odd)); n > best {
			best, name = n, candidate
		}
	}
	return charset{name, true, inCharset(name, odd)}
}

func inCharset(name string, lines [][]byte) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		text, _ := encodings[name].NewDecoder().String(string(line)) // a code page decodes any byte
		out[i] = strings.TrimSpace(text)
		if len(out[i]) > previewBytes {
			out[i] = strings.ToValidUTF8(out[i][:previewBytes], "")
		}
	}
	return out
}

// likely are the letters and signs beyond ASCII that English, French and Portuguese
// tables hold; common practice, no source.
const likely = "àâäáãåçéèêëíîïìñóôöõòœúùûüÿ°²³½¼¾±µ’‘“”–…"

// likeWords counts the letters and signs that fit where they stand: a capital after a
// small letter does not.
func likeWords(lines []string) int {
	n := 0
	for _, line := range lines {
		before := ' '
		for _, r := range line {
			if r >= utf8.RuneSelf && strings.ContainsRune(likely, unicode.ToLower(r)) && !(unicode.IsUpper(r) && unicode.IsLower(before)) {
				n++
			}
			before = r
		}
	}
	return n
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

// delimiters are the signs that part the cells of a text, the likeliest first.
var delimiters = []string{",", ";", "\t", "|"}

// sampleLines is how many lines tell the delimiter.
const sampleLines = 20

// delimiterOf guesses the delimiter: the sign that parts most of the first lines into as
// many cells as the first.
func delimiterOf(lines []string) string {
	best, name := 0, delimiters[0]
	for _, d := range delimiters {
		if n := fit(lines, d); n > best {
			best, name = n, d
		}
	}
	return name
}

func fit(lines []string, delimiter string) int {
	var counts []int
	for _, line := range lines {
		counts = append(counts, cellsIn(line, rune(delimiter[0])))
	}
	if len(counts) == 0 || counts[0] < 2 {
		return 0
	}
	alike := len(slices.DeleteFunc(slices.Clone(counts), func(n int) bool { return n != counts[0] }))
	return alike*1000/len(counts) + min(counts[0], 100)
}

// cellsIn counts cells outside quotes.
func cellsIn(line string, delimiter rune) int {
	n, quoted := 1, false
	for _, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case r == delimiter && !quoted:
			n++
		}
	}
	return n
}

func tooWide(columns int) error {
	return fmt.Errorf("its first row has %d columns; no table has more than %d: check the delimiter", columns, maxColumns)
}
