package soil

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// token is one folded word; begins says that punctuation or a joining sign stands
// before it, so that no phrase runs across.
type token struct {
	word   string
	raw    string // small letters, accents and plural as written
	begins bool
}

// plural reports that the word lost an s.
func (t token) plural() bool { return strings.HasSuffix(t.raw, "s") && !strings.HasSuffix(t.word, "s") }

// tokenise splits text into words without case, accents, digits or a plural s.
func tokenise(text string) []token {
	var (
		out       []token
		word, raw strings.Builder
		begins    = true
	)
	flush := func() {
		if word.Len() > 0 {
			out = append(out, token{singular(word.String()), norm.NFC.String(raw.String()), begins})
			begins = false
		}
		word.Reset()
		raw.Reset()
	}
	for _, r := range norm.NFD.String(spellOut(text)) {
		switch {
		case unicode.Is(unicode.Mn, r): // an accent, split off by NFD
			raw.WriteRune(r)
		case unicode.IsLetter(r):
			word.WriteRune(unicode.ToLower(r))
			raw.WriteRune(unicode.ToLower(r))
		default:
			flush()
			begins = begins || strings.ContainsRune(",;.:/&+()\n", r)
		}
	}
	flush()
	return out
}

// singular drops a plural s. Short words and double s are left; a word that merely ends
// in s loses it in the vocabulary as well, so that the two still meet.
func singular(word string) string {
	if len(word) < 4 || strings.HasSuffix(word, "ss") {
		return word
	}
	return strings.TrimSuffix(word, "s")
}
