package intake

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

//go:embed names.txt
var namesText string

// names are what offices call one thing: a column, or a value of one.
type names struct {
	meant    string // such as "depth", or "outcome" of a value
	value    string // what the cell stands for; "" of a column
	language []string
	words    [][]string // the words of each name, folded
}

// columnNames returns the names of the embedded file.
var columnNames = sync.OnceValues(func() ([]names, error) { return readNames(namesText) })

func readNames(text string) ([]names, error) {
	var out []names
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "["):
			meant, value, _ := strings.Cut(strings.Trim(line, "[]"), "=")
			out = append(out, names{meant: strings.TrimSpace(meant), value: strings.TrimSpace(value)})
		default:
			language, list, ok := strings.Cut(line, ":")
			if !ok || len(out) == 0 {
				return nil, fmt.Errorf("names, line %d: %q is neither a [block] nor a language with its names", i+1, line)
			}
			out[len(out)-1].add(language, list)
		}
	}
	return out, nil
}

func (n *names) add(language, list string) {
	for _, name := range strings.Split(list, ";") {
		if words := wordsOf(name); len(words) > 0 {
			n.language, n.words = append(n.language, language), append(n.words, words)
		}
	}
}

// idle are words that tell nothing where others stand beside them.
var idle = map[string]bool{
	"of": true, "the": true, "in": true, "at": true, "l": true, "d": true, "la": true, "le": true, "les": true, "des": true,
	"da": true, "do": true, "das": true, "dos": true, "em": true, "en": true, "par": true,
	"de": true, "du": true, "a": true, "wp": true, "wlm": true, "final": true, "orig": true, "original": true, "1": true,
}

// wordsOf folds a name into words: small letters without accents, split where signs
// stand and where a word begins within ("FromDepth", "WPType").
func wordsOf(name string) []string {
	var spaced strings.Builder
	before := ' '
	runes := []rune(norm.NFD.String(strings.NewReplacer("n°", "no", "N°", "no", "n.º", "no", "N.º", "no", "nº", "no", "Nº", "no").Replace(name)))
	for i, r := range runes {
		next := ' '
		if i+1 < len(runes) {
			next = runes[i+1]
		}
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			r = ' '
		case unicode.IsUpper(r) && (unicode.IsLower(before) || unicode.IsUpper(before) && unicode.IsLower(next)):
			spaced.WriteByte(' ')
		}
		spaced.WriteRune(unicode.ToLower(r))
		before = r
	}
	words := strings.Fields(spaced.String())
	var telling []string
	for i, w := range words {
		if short := strings.TrimRight(w, "0123456789"); len(short) > 3 {
			words[i] = short // "functional3", "notes1"
		}
		if w = words[i]; !idle[w] {
			telling = append(telling, w)
		}
	}
	if len(telling) == 0 {
		return words
	}
	return telling
}

// likeness tells how far a header's words say a name: 1 when they are the name, less the
// more other words stand around it and the more slips there are, 0 when it is not there.
func likeness(header, name []string) float64 {
	best := 0.0
	for at := 0; at+len(name) <= len(header); at++ {
		slip := 1.0
		for i, word := range name {
			slip *= alike(header[at+i], word)
		}
		if slip == 0 {
			continue
		}
		share := float64(letters(name)) / float64(max(letters(header), letters(name)))
		best = max(best, slip*(0.5+0.5*share))
	}
	return best
}

func letters(words []string) int { return len(strings.Join(words, "")) }

// alike compares two words: a single slip in a longer one counts for less.
func alike(got, want string) float64 {
	switch {
	case got == want:
		return 1
	case len(want) >= 5 && len(got) >= 4 && slips(got, want) == 1:
		return 0.9
	}
	return 0
}

// slips counts the letters dropped, added, changed or swapped with their neighbour
// between two words (optimal string alignment distance).
func slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d < -2 || d > 2 {
		return 3
	}
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}
