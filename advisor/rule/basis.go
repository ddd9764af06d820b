package rule

import (
	"fmt"
	"slices"

	"waterstrike/geo"
)

// Mark says how well a value is founded.
type Mark string

// The marks.
const (
	Published Mark = "published"       // read in the source
	Memory    Mark = "memory"          // recalled from the source, not read again
	Doubtful  Mark = "doubtful"        // recalled with doubt: check before relying on it
	Practice  Mark = "common-practice" // a habit of the trade, no single source
	Own       Mark = "own"             // the programme's own
)

// Marks lists every mark, the surest first.
func Marks() []Mark { return []Mark{Published, Memory, Doubtful, Practice, Own} }

// Code names the mark in the catalogue.
func (m Mark) Code() geo.Code { return geo.Code("mark." + string(m)) }

// Basis says where a value comes from.
type Basis struct {
	Source string `json:"source,omitempty"`
	Mark   Mark   `json:"mark"`
}

// settle gives a value that says nothing of its origin the mark of the programme, and
// refuses a mark that is not known or that promises a source and names none.
func (b *Basis) settle() error {
	if *b == (Basis{}) {
		b.Mark = Own
	}
	if !slices.Contains(Marks(), b.Mark) {
		return fmt.Errorf("mark %q is not one of %v", b.Mark, Marks())
	}
	if b.Source == "" && b.Mark != Practice && b.Mark != Own {
		return fmt.Errorf("mark %q needs a source", b.Mark)
	}
	return nil
}
