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

// shortestSwap is the same for two neighbouring letters swapped ("caly").
const shortestSwap = 4

// shortestHalf is the least length of either of two words run together.
const shortestHalf = 3

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
		if len(word) >= shortestSwap && !strings.Contains(word, " ") {
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
	raw    string // as written, in small letters
}

// find reads tokens as the longest known phrases.
func (r *Reader) find(tokens []token) []item {
	var out []item
	for len(tokens) > 0 {
		found, used := r.next(tokens)
		found[0].begins = tokens[0].begins
		out = append(out, found...)
		tokens = tokens[used:]
	}
	return out
}

func (r *Reader) next(tokens []token) ([]item, int) {
	for n := unbroken(tokens); n > 0; n-- {
		phrase := join(tokens[:n], func(t token) string { return t.word })
		if e, ok := r.words[phrase]; ok && !r.loose(e, tokens[:n]) {
			raw := join(tokens[:n], func(t token) string { return t.raw })
			return []item{{entry: e, known: true, word: phrase, raw: raw}}, n
		}
	}
	if pair := r.cut(tokens[0].word); pair != nil {
		return r.find(pair), 1
	}
	found := r.guess(tokens[0].word)
	found.raw = tokens[0].raw
	return []item{found}, 1
}

// loose reports that a phrase names stones rather than a rock: "clay stones" are stones
// in clay, "clay stone" is a rock.
func (r *Reader) loose(e entry, tokens []token) bool {
	last := tokens[len(tokens)-1]
	rock := e.class == WeatheredRock || e.class == Rock || e.class == Hardpan
	return len(tokens) > 1 && rock && last.plural() && r.words[last.word].class == Gravel
}

// cut parts two known words written as one, such as "greyclay"; nil when there are none.
func (r *Reader) cut(word string) []token {
	for i := shortestHalf; i <= len(word)-shortestHalf; i++ {
		left, right := singular(word[:i]), singular(word[i:])
		if r.has(left) && r.has(right) {
			return []token{{word: left, raw: word[:i]}, {word: right, raw: word[i:]}}
		}
	}
	return nil
}

func (r *Reader) has(word string) bool { _, ok := r.words[word]; return ok }

// unbroken counts the leading tokens that a phrase may span.
func unbroken(tokens []token) int {
	n := 1
	for n < min(longestPhrase, len(tokens)) && !tokens[n].begins {
		n++
	}
	return n
}

func join(tokens []token, part func(token) string) string {
	if len(tokens) == 1 {
		return part(tokens[0])
	}
	words := make([]string, len(tokens))
	for i, t := range tokens {
		words[i] = part(t)
	}
	return strings.Join(words, " ")
}

// guess reads a single word that the vocabulary lacks as a slip of the pen, when all the
// words it may stand for say the same. Letters swapped are the commonest slip: they are
// tried before any other.
func (r *Reader) guess(word string) item {
	if len(word) >= shortestSwap {
		for _, near := range []func(a, b string) bool{swapped, slipped} {
			if e, ok := r.agreed(word, near); ok {
				return item{entry: e, slip: true, known: true, word: word}
			}
		}
	}
	return item{word: word}
}

// agreed returns what the words near to one mean, when there are any and they agree.
func (r *Reader) agreed(word string, near func(a, b string) bool) (entry, bool) {
	var found entry
	ok := false
	for _, candidate := range r.long {
		if !near(word, candidate) {
			continue
		}
		if ok && !found.means(r.words[candidate]) {
			return entry{}, false
		}
		found, ok = r.words[candidate], true
	}
	return found, ok
}

// swapped reports whether word may be candidate with two neighbouring letters swapped.
func swapped(word, candidate string) bool {
	return len(word) == len(candidate) && oneSwap(word, candidate)
}

// slipped reports whether word may be a misspelt candidate.
func slipped(word, candidate string) bool {
	if len(word) < shortestSlip || len(candidate) < shortestSlip {
		return swapped(word, candidate)
	}
	return oneSlip(word, candidate)
}

// oneSwap reports whether a and b, of one length, differ by two neighbouring letters.
func oneSwap(a, b string) bool {
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
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
	return oneSwap(a, b) || a[i+1:] == b[i+1:]
}
