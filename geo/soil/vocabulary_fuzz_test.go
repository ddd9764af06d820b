package soil_test

import (
	"bytes"
	"strings"
	"testing"

	"waterstrike/geo/soil"
)

// FuzzVocabulary holds a trainer's own list of words to what a reading may be, beside the
// list that comes with the program.
func FuzzVocabulary(f *testing.F) {
	head, _, _ := strings.Cut(string(soil.Words()), "\n")
	f.Add(head+"\nkibamba,en,class,clay,,,0.9\n", "red kibamba with stones")
	f.Add("# mine\n"+head+"\n\"a b\",fr,colour,,,,\n", "a b c")
	f.Add(head+"\nx,en,class,no-class,,,NaN\n", "x")
	f.Fuzz(func(t *testing.T, file, words string) {
		if len(file) > 1<<11 || len(words) > 1<<9 {
			return // longer than a list of a few words
		}
		r, err := soil.NewReader(bytes.NewReader(soil.Words()[:0]), strings.NewReader(file))
		if err != nil {
			return
		}
		got := r.Read(words)
		if !(got.Confidence >= 0 && got.Confidence <= 1) || got.Class > soil.Count {
			t.Errorf("%q reads %q as %+v", file, words, got)
		}
		if again := r.Read(words); again.Class != got.Class || again.Grade != got.Grade || again.Confidence != got.Confidence {
			t.Errorf("%q read twice: %+v, %+v", words, got, again)
		}
	})
}
