package publish

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"waterstrike/geo"
)

// kind is what a value is made of.
type kind uint8

const (
	missing kind = iota
	words        // as somebody wrote them
	code         // from a list of ours, an id or a date: cannot harm a spreadsheet
	number
	yesNo
	months // numbers of months, or a word for none
	raw    // JSON
)

// value is one cell; the zero value is missing.
type value struct {
	kind   kind
	text   string
	number float64 // also 1 for yes
	err    error   // why there is none
}

func wordsOf(s string) value { return textual(words, s) }

func codeOf[S ~string](s S) value { return textual(code, string(s)) }

func textual(k kind, s string) value {
	if s == "" {
		return value{}
	}
	return value{kind: k, text: strings.ToValidUTF8(s, "\uFFFD")}
}

func numberOf(v float64) value { return value{kind: number, number: v} }

func boolOf(yes bool) value {
	if yes {
		return value{kind: yesNo, number: 1}
	}
	return value{kind: yesNo}
}

func dateOf(d geo.Date) value { return codeOf(d.String()) }

func countOf(n int) value { return numberOf(float64(n)) }

// finite refuses what neither format can say.
func (v value) finite() error {
	if v.err != nil {
		return v.err
	}
	if math.IsNaN(v.number) || math.IsInf(v.number, 0) {
		return fmt.Errorf("%v is not a finite number", v.number)
	}
	return nil
}

// cell returns the value as a CSV cell.
func (v value) cell() string {
	switch v.kind {
	case words:
		return guarded(oneLineBreak.Replace(v.text))
	case number:
		return strconv.FormatFloat(v.number, 'f', -1, 64)
	case yesNo:
		return strconv.FormatBool(v.number == 1)
	}
	return v.text
}

// oneLineBreak turns every line break into the one that encoding/csv writes as CRLF; it
// would lose a lone carriage return.
var oneLineBreak = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// guard stands before words that are no formula.
const guard = "'"

// guarded puts a single quote before words that a spreadsheet might run as a formula,
// and before those that begin with one, so that it can be taken off again.
func guarded(text string) string {
	if strings.ContainsRune("=+-@\t\n'", rune(text[0])) {
		return guard + text
	}
	return text
}

// appendJSON appends the value as JSON. A missing value has none.
func (v value) appendJSON(out []byte) []byte {
	switch v.kind {
	case number:
		return strconv.AppendFloat(out, v.number, 'f', -1, 64)
	case yesNo:
		return strconv.AppendBool(out, v.number == 1)
	case raw:
		return append(out, v.text...)
	}
	text, _ := json.Marshal(v.text) // strings always encode
	return append(out, text...)
}
