// Package soil holds the few soil and rock classes that the ground model knows, their
// properties, and the reader that turns drillers' words into them.
//
// Classes are tied to what stops a bit and what gives water; everything finer stays in
// the words as written.
package soil

import "fmt"

// Class is what one layer is made of. The zero value is [Unknown]: described, but in
// words that nobody could map; it is never read as any of the others.
type Class uint8

// The classes, from the top of a usual profile downwards.
const (
	Unknown Class = iota
	Topsoil
	Clay
	Silt
	Sand
	Gravel
	Hardpan       // laterite crust, calcrete, silcrete: hard, thin, above softer ground
	WeatheredRock // saprolite and grus: rock that a chisel still breaks
	FracturedRock
	Rock
)

// Count is the number of known classes; known classes are 1..Count.
const Count = 9

var classCodes = [Count + 1]string{
	"unknown", "topsoil", "clay", "silt", "sand", "gravel",
	"hardpan", "weathered-rock", "fractured-rock", "rock",
}

// Known returns the known classes in their fixed order.
func Known() [Count]Class {
	var out [Count]Class
	for i := range out {
		out[i] = Class(i + 1)
	}
	return out
}

// String returns the stable code of c, such as "weathered-rock".
func (c Class) String() string {
	if int(c) >= len(classCodes) {
		return fmt.Sprintf("class(%d)", uint8(c))
	}
	return classCodes[c]
}

// ParseClass reads a code written by [Class.String].
func ParseClass(code string) (Class, error) {
	for i, known := range classCodes {
		if known == code {
			return Class(i), nil
		}
	}
	return Unknown, fmt.Errorf("soil: no class %q", code)
}

// Grade is the grain size of a sand, kept because it decides how easily it gives water.
type Grade uint8

// The grades of sand; EN ISO 14688-1 draws the limits at 0.2 and 0.63 mm.
const (
	GradeUnknown Grade = iota
	Fine
	Medium
	Coarse
)

var gradeCodes = [...]string{"", "fine", "medium", "coarse"}

// String returns the stable code of g; the empty string when the grade is not known.
func (g Grade) String() string {
	if int(g) >= len(gradeCodes) {
		return fmt.Sprintf("grade(%d)", uint8(g))
	}
	return gradeCodes[g]
}

// ParseGrade reads a code written by [Grade.String].
func ParseGrade(code string) (Grade, error) {
	for i, known := range gradeCodes {
		if known == code {
			return Grade(i), nil
		}
	}
	return GradeUnknown, fmt.Errorf("soil: no grade %q", code)
}

// MarshalText writes the code of c.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads the code of a class.
func (c *Class) UnmarshalText(text []byte) (err error) {
	*c, err = ParseClass(string(text))
	return err
}

// MarshalText writes the code of g.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads the code of a grade.
func (g *Grade) UnmarshalText(text []byte) (err error) {
	*g, err = ParseGrade(string(text))
	return err
}
