package coord

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

type tokenKind int

const (
	numberToken tokenKind = iota
	markToken             // a degree, minute or second mark
	signToken
	sideToken // a hemisphere letter or word
)

// token is one piece of a written angle.
type token struct {
	kind   tokenKind
	start  int // byte offset in the text
	text   string
	number number
	unit   int     // of a mark: 1 degrees, 2 minutes, 3 seconds
	letter bool    // of a mark: d, m or s rather than a sign
	sign   float64 // of a sign or a side
	axis   Axis    // of a side
}

// marks are the signs for degrees, minutes and seconds; what keyboards and word
// processors make of them included. A colon stands for the mark due there.
var marks = map[string]int{
	"°": 1, "º": 1, "˚": 1, "D": 1, "DEG": 1,
	"'": 2, "′": 2, "’": 2, "‘": 2, "´": 2, "`": 2, "M": 2, "MIN": 2,
	`"`: 3, "″": 3, "”": 3, "“": 3, "''": 3, "′′": 3, "’’": 3, "SEC": 3,
}

type side struct {
	axis Axis
	sign float64
}

// sides are the hemispheres in English, French, Portuguese and Spanish. O is
// west in the last three and nowhere east.
var sides = map[string]side{
	"N": {Latitude, 1}, "NORTH": {Latitude, 1}, "NORD": {Latitude, 1}, "NORTE": {Latitude, 1},
	"S": {Latitude, -1}, "SOUTH": {Latitude, -1}, "SUD": {Latitude, -1}, "SUL": {Latitude, -1}, "SUR": {Latitude, -1},
	"E": {Longitude, 1}, "EAST": {Longitude, 1}, "EST": {Longitude, 1}, "L": {Longitude, 1}, "LESTE": {Longitude, 1}, "ESTE": {Longitude, 1},
	"W": {Longitude, -1}, "WEST": {Longitude, -1}, "O": {Longitude, -1}, "OUEST": {Longitude, -1}, "OESTE": {Longitude, -1},
}

// The number may not be followed by another decimal mark; a word is letters only.
var anglePiece = regexp.MustCompile(`^(?:(\d+)(?:[.,](\d+))?|([+\-−–])|([A-Za-z]+)|(''|′′|’’|[°º˚'′’‘´"″”“:` + "`" + `])|([\s\x{00a0}\x{202f}_]+))`)

// scanAngle cuts a text into tokens; ok is false at the first unknown piece.
func scanAngle(text string) (tokens []token, ok bool) {
	numbers, whole := 0, len(text)
	for text != "" {
		m := anglePiece.FindStringSubmatch(text)
		if m == nil {
			return nil, false
		}
		m[0], m[4] = splitMark(m[0], m[4])
		rest := text[len(m[0]):]
		t, keep, ok := makeToken(m, numbers)
		if !ok || (m[1] != "" && startsWithDigitOrDecimal(rest)) {
			return nil, false
		}
		if keep {
			t.start = whole - len(text)
			tokens = append(tokens, t)
		}
		if m[1] != "" {
			numbers++
		}
		text = rest
	}
	return tokens, true
}

// splitMark takes only the mark from a run such as the mN of 5d30mN.
func splitMark(all, word string) (string, string) {
	if len(word) != 2 || !strings.ContainsRune("dmsDMS", rune(word[0])) {
		return all, word
	}
	return all[:1], word[:1]
}

func startsWithDigitOrDecimal(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return r == '.' || r == ','
}

// makeToken turns one match into a token; spaces make none.
func makeToken(m []string, numbers int) (t token, keep, ok bool) {
	switch {
	case m[1] != "":
		n, err := parseNumber(m[1], m[2])
		return token{kind: numberToken, text: m[0], number: n}, true, err == nil
	case m[3] == "+":
		return token{kind: signToken, text: m[0], sign: 1}, true, true
	case m[3] != "":
		return token{kind: signToken, text: m[0], sign: -1}, true, true
	case m[4] != "":
		return wordToken(m[4])
	case m[5] == ":":
		return token{kind: markToken, text: m[0], unit: numbers}, true, numbers > 0
	case m[5] != "":
		return token{kind: markToken, text: m[0], unit: marks[m[5]]}, true, true
	}
	return token{}, false, true
}

func wordToken(word string) (t token, keep, ok bool) {
	upper := strings.ToUpper(word)
	if unit, found := marks[upper]; found {
		return token{kind: markToken, text: word, unit: unit, letter: true}, true, true
	}
	s, found := sides[upper]
	return token{kind: sideToken, text: word, axis: s.axis, sign: s.sign}, true, found
}

func parseNumber(whole, decimals string) (number, error) {
	v, err := strconv.ParseFloat(whole+"."+decimals+"0", 64)
	return number{value: v, halfUnit: halfUnit(len(decimals)), wholeDigits: len(whole), decimals: len(decimals)}, err
}
