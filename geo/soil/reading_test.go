package soil_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo/soil"
)

// The expectations of the first block follow the table of drillers' words in the trade
// notes (general field usage, from memory); the second block holds ways of writing that
// drillers' registers use (common practice, no source).
func TestRead(t *testing.T) {
	tests := []struct {
		words  string
		class  soil.Class
		grade  soil.Grade
		clayey bool
	}{
		{"black soil", soil.Topsoil, 0, false},
		{"terre végétale", soil.Topsoil, 0, false},
		{"solo superficial", soil.Topsoil, 0, false},
		{"fat clay", soil.Clay, 0, false},
		{"Black cotton soil", soil.Clay, 0, false},
		{"argile plastique", soil.Clay, 0, false},
		{"argile noire", soil.Clay, 0, false},
		{"barro", soil.Clay, 0, false},
		{"argila negra", soil.Clay, 0, false},
		{"sandy clay", soil.Clay, 0, false},
		{"argile sableuse", soil.Clay, 0, false},
		{"argila arenosa", soil.Clay, 0, false},
		{"silt", soil.Silt, 0, false},
		{"limon", soil.Silt, 0, false},
		{"silte", soil.Silt, 0, false},
		{"limo", soil.Silt, 0, false},
		{"dirty sand", soil.Sand, 0, true},
		{"sable argileux", soil.Sand, 0, true},
		{"areia argilosa", soil.Sand, 0, true},
		{"fine sand", soil.Sand, soil.Fine, false},
		{"running sand", soil.Sand, soil.Fine, false},
		{"sable moyen", soil.Sand, soil.Medium, false},
		{"sable grossier", soil.Sand, soil.Coarse, false},
		{"areia média", soil.Sand, soil.Medium, false},
		{"areia grossa", soil.Sand, soil.Coarse, false},
		{"gravel", soil.Gravel, 0, false},
		{"gravillons", soil.Gravel, 0, false},
		{"galets", soil.Gravel, 0, false},
		{"cascalho", soil.Gravel, 0, false},
		{"seixos", soil.Gravel, 0, false},
		{"murram", soil.Gravel, 0, false},
		{"gravillons latéritiques", soil.Gravel, 0, false},
		{"latérite", soil.Gravel, 0, false},
		{"piçarra", soil.Gravel, 0, false},
		{"ironpan", soil.Hardpan, 0, false},
		{"cuirasse", soil.Hardpan, 0, false},
		{"cuirasse latéritique", soil.Hardpan, 0, false},
		{"couraça laterítica", soil.Hardpan, 0, false},
		{"canga", soil.Hardpan, 0, false},
		{"pipe clay", soil.Clay, 0, false},
		{"argile bariolée", soil.Clay, 0, false},
		{"argila mosqueada", soil.Clay, 0, false},
		{"rotten rock", soil.WeatheredRock, 0, false},
		{"altérites", soil.WeatheredRock, 0, false},
		{"roche pourrie", soil.WeatheredRock, 0, false},
		{"saprólito", soil.WeatheredRock, 0, false},
		{"rocha decomposta", soil.WeatheredRock, 0, false},
		{"arène granitique", soil.WeatheredRock, 0, false},
		{"rocha alterada", soil.WeatheredRock, 0, false},
		{"socle", soil.Rock, 0, false},
		{"roche saine", soil.Rock, 0, false},
		{"rocha sã", soil.Rock, 0, false},
		{"kunkar", soil.Hardpan, 0, false},
		{"croûte calcaire", soil.Hardpan, 0, false},
		{"crosta", soil.Hardpan, 0, false},

		{"clay sandy", soil.Clay, 0, false},
		{"CLAY GREY SANDY", soil.Clay, 0, false},
		{"SAND YELLOW GREY CLAYEY SOME GRAVEL", soil.Sand, 0, true},
		{"Sand, orange, coarse & fine", soil.Sand, soil.Medium, false},
		{"fine to medium sand", soil.Sand, soil.Fine, false},
		{"sand with coarse gravel", soil.Sand, 0, false},
		{"some gravel, clay", soil.Clay, 0, false},
		{"sable fin avec argile", soil.Sand, soil.Fine, true},
		{"SABLE  GROSSIER, un peu d'argile", soil.Sand, soil.Coarse, true},
		{"yellowbrown snady clay", soil.Clay, 0, false},
		{"sandstnoe", soil.Rock, 0, false},
		{"granite", soil.Rock, 0, false},
		{"granite, weathered", soil.WeatheredRock, 0, false},
		{"slightly weathered granite", soil.Rock, 0, false},
		{"schiste altéré", soil.WeatheredRock, 0, false},
		{"granito fracturado", soil.FracturedRock, 0, false},
		{"fractured basalt", soil.FracturedRock, 0, false},
		{"highly weathered frac. basalt", soil.WeatheredRock, 0, false},
		{"sandstone", soil.Rock, 0, false},
		{"soft sandstone", soil.WeatheredRock, 0, false},
		{"SHALE HARD", soil.Rock, 0, false},
		{"hard laterite", soil.Hardpan, 0, false},
		{"latérite dure", soil.Hardpan, 0, false},
		{"cemented gravel", soil.Hardpan, 0, false},
		{"hard clay", soil.Clay, 0, false},
		{"clay, weathered granite below", soil.Clay, 0, false},
		{"argile silteuse", soil.Clay, 0, false},
		{"silty sand", soil.Sand, 0, true},
		{"sandy", soil.Sand, 0, false},
		{"gneiss", soil.Rock, 0, false},
		{"greyclay", soil.Clay, 0, false},
		{"decomposedgranite", soil.WeatheredRock, 0, false},
		{"red caly", soil.Clay, 0, false},
	}
	r := soil.DefaultReader()
	for _, tt := range tests {
		got := r.Read(tt.words)
		if got.Class != tt.class || got.Grade != tt.grade || got.Clayey != tt.clayey {
			t.Errorf("%q: %v %v clayey=%v, want %v %v clayey=%v",
				tt.words, got.Class, got.Grade, got.Clayey, tt.class, tt.grade, tt.clayey)
		}
		if !(got.Confidence > 0 && got.Confidence <= 1) {
			t.Errorf("%q: confidence %v", tt.words, got.Confidence)
		}
	}
}

func TestReadSaysWhatItCannotRead(t *testing.T) {
	r := soil.DefaultReader()
	tests := []struct {
		words  string
		unread []string
		water  bool
	}{
		{"", nil, false},
		{"NO STRATA DETAILS", nil, false},
		{"water supply", nil, true},
		{"venue d'eau", nil, true},
		{"xyzzy plugh", []string{"xyzzy", "plugh"}, false},
		{"12 - 14 m", nil, false},
	}
	for _, tt := range tests {
		got := r.Read(tt.words)
		if got.Class != soil.Unknown || got.Confidence != 0 {
			t.Errorf("%q: read as %v at %v", tt.words, got.Class, got.Confidence)
		}
		if !slices.Equal(got.Unread, tt.unread) || got.Water != tt.water {
			t.Errorf("%q: unread %q water %v, want %q %v", tt.words, got.Unread, got.Water, tt.unread, tt.water)
		}
	}
}

func TestConfidenceFallsWithDoubt(t *testing.T) {
	r := soil.DefaultReader()
	for _, pair := range [][2]string{ // surer first
		{"sand", "snad"},
		{"sandy clay", "clay gravel"},
		{"sand", "sandy"},
		{"clay", "clay xyzzy"},
		{"murram", "laterite"},
		{"weathered granite", "weathered fractured granite"},
	} {
		if sure, less := r.Read(pair[0]).Confidence, r.Read(pair[1]).Confidence; !(sure > less) {
			t.Errorf("%q at %v is not surer than %q at %v", pair[0], sure, pair[1], less)
		}
	}
}

func TestAmbiguousSlipStaysUnread(t *testing.T) {
	words := "phrase,language,role,class,grade,hard,sure\nslate,en,main,rock,,,\nslant,en,main,clay,,,\n"
	r, err := soil.NewReader(strings.NewReader(words))
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Read("slaty").Class; got != soil.Rock {
		t.Errorf("slaty: %v", got)
	}
	if got := r.Read("slat"); got.Class != soil.Unknown {
		t.Errorf("a short word was guessed: %v", got)
	}
	if got := r.Read("slane"); got.Class != soil.Unknown {
		t.Errorf("slane may be slate or slant, read as %v", got.Class)
	}
}

func TestNewReader(t *testing.T) {
	const head = "phrase,language,role,class,grade,hard,sure\n"
	for name, file := range map[string]string{
		"unknown role":      head + "sand,en,noun,sand,,,",
		"main, no class":    head + "sand,en,main,,,,",
		"colour with class": head + "red,en,colour,clay,,,",
		"unknown class":     head + "sand,en,main,sandd,,,",
		"unknown grade":     head + "fine,en,grade,,tiny,,",
		"grade missing":     head + "fine,en,grade,,,,",
		"sure above one":    head + "sand,en,main,sand,,,2",
		"sure not a number": head + "sand,en,main,sand,,,x",
		"sure NaN":          head + "sand,en,main,sand,,,NaN",
		"twice":             head + "sand,en,main,sand,,,\nSands,en,main,gravel,,,",
		"no word":           head + "12,en,main,sand,,,",
		"too few columns":   head + "sand,en,main",
	} {
		if _, err := soil.NewReader(strings.NewReader(file)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	mine := head + "sand,en,main,gravel,,,\nouadi,fr,main,sand,coarse,,"
	r, err := soil.NewReader(strings.NewReader(string(soil.Words())), strings.NewReader(mine))
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Read("sand").Class; got != soil.Gravel {
		t.Errorf("a later file does not replace a word: %v", got)
	}
	if got := r.Read("Ouadi"); got.Class != soil.Sand || got.Grade != soil.Coarse {
		t.Errorf("a new word is not read: %v", got)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"", "sable argileux", "CLAY, GREY; 2% sand", "\xff\xfeé́", "grèygreÿ"} {
		f.Add(s)
	}
	r := soil.DefaultReader()
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<12 {
			text = text[:1<<12] // longer than any description
		}
		got := r.Read(text)
		if (got.Class == soil.Unknown) != (got.Confidence == 0) || got.Confidence < 0 || got.Confidence > 1 {
			t.Errorf("%q: %+v", text, got)
		}
		if got.Grade != soil.GradeUnknown && got.Class != soil.Sand {
			t.Errorf("%q: a grade without a sand: %+v", text, got)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	r := soil.DefaultReader()
	for b.Loop() {
		r.Read("SAND; grey, medium to coarse, with smal amount of clay, water bearing")
	}
}

func ExampleReader_Read() {
	r := soil.DefaultReader()
	for _, words := range []string{"sable argileux", "argile sableuse", "CLAY GREY SANDY"} {
		got := r.Read(words)
		fmt.Println(got.Class, got.Clayey)
	}
	// Output:
	// sand true
	// clay false
	// clay false
}
