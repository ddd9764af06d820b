package soil

import (
	"bytes"
	"io"
	"slices"
	"strings"
)

// longestPhrase is how many words a phrase of the vocabulary may have.
const longestPhrase = 4

// shortestSlip is the length from which a word may be read through one slip of the pen;
// shorter words differ by one letter too often.
const shortestSlip = 5

// Reader reads drillers' words. It never changes once made and serves many goroutines.
type Reader struct {
	words map[string]entry
	long  []string // single words that a slip may stand for, in order
}

// NewReader returns a reader over vocabulary files (the columns of [Words]); a word of a
// later file replaces the same word of an earlier one.
func NewReader(files ...io.Reader) (*Reader, error) {
	r := &Reader{words: map[string]entry{}}
	for _, f := range files {
		if err := readVocabulary(f, r.words); err != nil {
			return nil, err
		}
	}
	for word := range r.words {
		if len(word) >= shortestSlip && !strings.Contains(word, " ") {
			r.long = append(r.long, word)
		}
	}
	slices.Sort(r.long)
	return r, nil
}

// DefaultReader returns a reader over the vocabulary that comes with the program.
func DefaultReader() *Reader {
	r, err := NewReader(bytes.NewReader(embedded))
	if err != nil {
		panic(err) // the embedded file is tested
	}
	return r
}

// item is a word or phrase found in a text.
type item struct {
	entry
	begins bool // punctuation before it
	slip   bool // read through a misspelling
	known  bool
	word   string
}

// find reads tokens as the longest known phrases.
func (r *Reader) find(tokens []token) []item {
	var out []item
	for len(tokens) > 0 {
		found, used := r.next(tokens)
		found.begins = tokens[0].begins
		out = append(out, found)
		tokens = tokens[used:]
	}
	return out
}

func (r *Reader) next(tokens []token) (item, int) {
	for n := unbroken(tokens); n > 0; n-- {
		phrase := join(tokens[:n])
		if e, ok := r.words[phrase]; ok {
			return item{entry: e, known: true, word: phrase}, n
		}
	}
	return r.guess(tokens[0].word), 1
}

// unbroken counts the leading tokens that a phrase may span.
func unbroken(tokens []token) int {
	n := 1
	for n < min(longestPhrase, len(tokens)) && !tokens[n].begins {
		n++
	}
	return n
}

func join(tokens []token) string {
	if len(tokens) == 1 {
		return tokens[0].word
	}
	words := make([]string, len(tokens))
	for i, t := range tokens {
		words[i] = t.word
	}
	return strings.Join(words, " ")
}

// guess reads a single word that the vocabulary lacks: two colours run together, or a
// slip when all the words it may stand for say the same.
func (r *Reader) guess(word string) item {
	unread := item{word: word}
	for i := 3; i <= len(word)-3; i++ {
		if r.words[word[:i]].role == roleColour && r.words[singular(word[i:])].role == roleColour {
			return item{entry: entry{role: roleColour}, known: true, word: word}
		}
	}
	if len(word) < shortestSlip {
		return unread
	}
	for _, candidate := range r.long {
		if !oneSlip(word, candidate) {
			continue
		}
		if unread.slip && !unread.means(r.words[candidate]) {
			return item{word: word}
		}
		unread = item{entry: r.words[candidate], slip: true, known: true, word: word}
	}
	return unread
}

// oneSlip reports whether a and b differ by one letter put in, left out, changed or
// swapped with its neighbour.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	if i == len(a) {
		return true
	}
	swapped := i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	return swapped || a[i+1:] == b[i+1:]
}
