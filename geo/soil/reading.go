package soil

import (
	"slices"
	"strings"
)

// Reading is what a driller's words say of one layer.
type Reading struct {
	Class      Class
	Grade      Grade    // of a sand
	Clayey     bool     // clay or silt named as a second material
	Confidence float64  // of the class, in [0, 1]; 0 when Unknown
	Water      bool     // the words say that the layer holds or gives water
	Unread     []string // words that the vocabulary lacks, folded
	WaterAt    []Depth  // where the words say that water came in
	Colour     string   // the words of colour as written, in small letters
	Hardness   string   // the words of hardness and firmness, likewise
	Ditto      bool     // the words point to the layer above: "as above"
}

// What lowers the confidence of a reading; judgement, no source.
const (
	slipFactor      = 0.8  // the main word was read through a misspelling
	rivalFactor     = 0.85 // each further material named as if its equal
	adjectiveFactor = 0.6  // no noun at all: "sandy"
	decayedFactor   = 0.8  // called both weathered and fractured
	unreadFactor    = 0.5  // lost when every word is unread
)

// Read turns the words of one layer into a class. The first material named is the main
// one ("sable argileux" is a sand, "sandy clay" and "clay sandy" are clays), adjectives
// and materials after "with" are second ones. Words that name no material give
// [Unknown] with confidence 0.
func (r *Reader) Read(text string) Reading {
	items := undenied(r.find(tokenise(text)))
	out := remarks(items)
	out.Ditto = out.Ditto || isDitto(text)
	if out.Water {
		out.WaterAt = r.waterAt(text)
	}
	named := terms(items)
	main := mainOf(named)
	if main == nil {
		return out
	}
	out.Class = main.class()
	if out.Class == Sand {
		out.Grade = main.gradeOf()
	}
	out.Clayey = clayey(out.Class, main, named, items)
	out.Confidence = main.confidence(named) * (1 - unreadFactor*float64(len(out.Unread))/float64(len(items)))
	return out
}

// remarks gathers what the words say besides materials.
func remarks(items []item) (out Reading) {
	var colour, hardness []string
	for _, it := range items {
		if !it.known {
			out.Unread = append(out.Unread, it.word)
			continue
		}
		switch it.role {
		case roleWater:
			out.Water = true
		case roleDitto:
			out.Ditto = true
		case roleColour:
			colour = append(colour, it.raw)
		case roleHard, roleSoft, roleCemented, roleFirmness:
			hardness = append(hardness, it.raw)
		}
	}
	out.Colour, out.Hardness = strings.Join(colour, " "), strings.Join(hardness, " ")
	return out
}

// isDitto reports the marks written for "the same".
func isDitto(text string) bool {
	text = strings.Trim(text, " -–")
	return text != "" && strings.Trim(text, "\"'“”„«»〃") == ""
}

// mainOf picks the material named as the main one; failing that the first that is not a
// mere part; failing that the first part.
func mainOf(named []*term) *term {
	for _, fits := range []func(*term) bool{
		func(t *term) bool { return t.most },
		func(t *term) bool { return !t.minor },
		func(*term) bool { return true },
	} {
		if i := slices.IndexFunc(named, fits); i >= 0 {
			return named[i]
		}
	}
	return nil
}

func (t *term) confidence(named []*term) float64 {
	sure := t.sure
	if t.slip {
		sure *= slipFactor
	}
	if t.states[roleWeathered] && t.states[roleFractured] {
		sure *= decayedFactor
	}
	for _, other := range named {
		if other != t && !other.minor && other.class() != t.class() {
			sure *= rivalFactor
		}
	}
	return sure
}

func clayey(main Class, t *term, named []*term, items []item) bool {
	if main == Clay || main == Topsoil {
		return false
	}
	for _, other := range named {
		if other != t && fines(other.class(), main) {
			return true
		}
	}
	for _, it := range items {
		if it.role == roleClayey || it.role == roleAdjective && it.word != t.word && fines(it.class, main) {
			return true
		}
	}
	return false
}

// fines reports that c is clay or silt, and not what the layer is made of anyway.
func fines(c, main Class) bool { return (c == Clay || c == Silt) && c != main }
