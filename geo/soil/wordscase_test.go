package soil_test

import (
	"slices"
	"strings"
	"testing"

	"waterstrike/geo/soil"
)

// wordsCase is a description and the reading expected: class, then grade and "clayey"
// where they apply.
type wordsCase struct{ words, want string }

func expectWords(t *testing.T, cases []wordsCase) {
	t.Helper()
	r := soil.DefaultReader()
	for _, c := range cases {
		got := r.Read(c.words)
		said := []string{got.Class.String()}
		if got.Grade != soil.GradeUnknown {
			said = append(said, got.Grade.String())
		}
		if got.Clayey {
			said = append(said, "clayey")
		}
		if strings.Join(said, " ") != c.want {
			t.Errorf("%q: %s, want %s", c.words, strings.Join(said, " "), c.want)
		}
		if len(got.Unread) > 0 {
			t.Errorf("%q: unread %q", c.words, got.Unread)
		}
	}
}

// Common practice, no source: a remark of water with its depth is a strike; a rest level,
// a rate or a denial is none.
func TestReadWaterAt(t *testing.T) {
	tests := []struct {
		words string
		want  []soil.Depth
	}{
		{"wet from 54", []soil.Depth{{54, ""}}},
		{"clay, wet from 54 ft", []soil.Depth{{54, "ft"}}},
		{"wet from 54 to 60 feet", []soil.Depth{{54, "ft"}}},
		{"water at 12 m and water at 18.5 m", []soil.Depth{{12, "m"}, {18.5, "m"}}},
		{"sand water at 60 ft and at 25 m", []soil.Depth{{60, "ft"}, {25, "m"}}},
		{"water at 12 m, sand from 14 m", []soil.Depth{{12, "m"}}},
		{"sand w/b 12 m", []soil.Depth{{12, "m"}}},
		{"white clay (water-34.4 m-flow)", []soil.Depth{{34.4, "m"}}},
		{"sable, eau à 12 m", []soil.Depth{{12, "m"}}},
		{"venue d'eau vers 7,5 m", []soil.Depth{{7.5, "m"}}},
		{"areia, água aos 9 m", []soil.Depth{{9, "m"}}},
		{"molhada desde 6 metros", []soil.Depth{{6, "m"}}},
		{"no water at 12 m", nil},
		{"pas d'eau à 12 m", nil},
		{"sem água aos 9 m", nil},
		{"water level at 12 m", nil},
		{"niveau d'eau à 12 m", nil},
		{"sand, water at 500 gph", nil},
		{"water at 1.2 l/s", nil},
		{"water bearing sand 3 m thick", nil},
		{"sand from 12 m", nil},
	}
	r := soil.DefaultReader()
	for _, tt := range tests {
		if got := r.Read(tt.words).WaterAt; !slices.Equal(got, tt.want) {
			t.Errorf("%q: %v, want %v", tt.words, got, tt.want)
		}
	}
}

func TestReadKeepsColourAndHardness(t *testing.T) {
	r := soil.DefaultReader()
	for words, want := range map[string][2]string{
		"CLAY, Light Grey, very stiff":    {"light grey", "very stiff"},
		"argile gris foncé, très dure":    {"gris foncé", "très dure"},
		"argila cinzenta, dura":           {"cinzenta", "dura"},
		"soft sandstone, not red":         {"", "soft"},
		"sand":                            {"", ""},
		"granite, slightly weathered":     {"", "slightly weathered"},
		"yellowbrown clay, hard cemented": {"yellow brown", "hard cemented"},
	} {
		if got := r.Read(words); got.Colour != want[0] || got.Hardness != want[1] {
			t.Errorf("%q: colour %q hardness %q, want %q", words, got.Colour, got.Hardness, want)
		}
	}
}

func TestReadDitto(t *testing.T) {
	r := soil.DefaultReader()
	for words, want := range map[string]bool{
		`"`: true, "-''-": true, "ditto": true, "AS ABOVE": true, "as above, harder": true, "idem": true,
		"comme ci-dessus": true, "como acima": true, "sand": false, "": false, "-": false, "above": false,
	} {
		if got := r.Read(words).Ditto; got != want {
			t.Errorf("%q: ditto %v", words, got)
		}
	}
}

func TestVocabularyErrorsNameLineAndColumn(t *testing.T) {
	const head = "phrase,language,role,class,grade,hard,sure\n"
	for file, want := range map[string]string{
		head + "sand,en,main,sandd,,,":              "line 2, column class",
		head + "sand,en,main,sand,,,\nx1,en,no,,,,": "line 3, column role",
		head + "fine,en,grade,,tiny,,":              "line 2, column grade",
		head + "rock,en,main,rock,,stone,":          "line 2, column hard",
		head + "rock,en,main,rock,,,often":          "line 2, column sure",
		head + "12,en,main,rock,,,":                 "line 2, column phrase",
	} {
		_, err := soil.NewReader(strings.NewReader(file))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v does not say %q", file, err, want)
		}
	}
}
