package rule

import (
	"fmt"
	"strconv"
	"strings"

	"waterstrike/geo"
)

// Fault is one wrong place of a rules file. Each kind has a sentence of its own in the
// catalogue, under "rules." and the kind, that tells what to do.
type Fault struct {
	Kind    FaultKind
	File    string
	Line    int    // of a file that cannot be read; 1 = first
	Entry   string // the entry's code; empty where the file is one entry
	Field   string
	Value   string // as written
	Allowed string // what it may be
}

// FaultKind is a way in which a rules file can be wrong.
type FaultKind string

// The kinds of fault.
const (
	Unreadable   FaultKind = "unreadable"    // no JSON
	NotAList     FaultKind = "not-a-list"    // entries are expected
	NotAnObject  FaultKind = "not-an-object" // one entry is expected
	UnknownFile  FaultKind = "unknown-file"  // nobody reads it
	UnknownEntry FaultKind = "unknown-entry" // where only known ones can be changed
	UnknownField FaultKind = "unknown-field"
	WrongValue   FaultKind = "wrong-value" // cannot be read as what it should be
	Outside      FaultKind = "outside"     // beyond what is possible
	NotOneOf     FaultKind = "not-one-of"
	Absent       FaultKind = "absent"
	Twice        FaultKind = "twice"
)

// FaultKinds lists every kind of fault.
func FaultKinds() []FaultKind {
	return []FaultKind{Unreadable, NotAList, NotAnObject, UnknownFile, UnknownEntry, UnknownField, WrongValue, Outside, NotOneOf, Absent, Twice}
}

// Error describes the fault in English, for logs and developers.
func (f *Fault) Error() string {
	parts := []string{string(f.Kind), f.File}
	if f.Line > 0 {
		parts = append(parts, fmt.Sprintf("line %d", f.Line))
	}
	for _, part := range []struct{ name, text string }{
		{"entry", f.Entry},
		{"field", f.Field},
		{"value", f.Value},
		{"allowed", f.Allowed},
	} {
		if part.text != "" {
			parts = append(parts, part.name+" "+part.text)
		}
	}
	return strings.Join(parts, ", ")
}

// Message tells the fault to people.
func (f *Fault) Message() geo.Message {
	return geo.Say(geo.Code("rules."+string(f.Kind)),
		geo.With("file", geo.Text(f.File)), geo.With("row", geo.Count(f.Line)),
		geo.With("entry", geo.Text(f.Entry)), geo.With("field", geo.Text(f.Field)),
		geo.With("value", geo.Text(f.Value)), geo.With("allowed", geo.Text(f.Allowed)))
}

// Refuse turns a fault into the error that every face understands.
func Refuse(f Fault) error { return geo.Fail(geo.Invalid, "rule.Read", f.Message(), &f) }

// Within refuses a value outside lo to hi, both allowed. Not a number is outside.
func (f Fault) Within(field string, value, lo, hi float64) error {
	if value >= lo && value <= hi {
		return nil
	}
	plain := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	f.Kind, f.Field, f.Value = Outside, field, plain(value)
	f.Allowed = plain(lo) + " … " + plain(hi)
	return Refuse(f)
}

// OneOf refuses a value that is none of those allowed.
func (f Fault) OneOf(field, value string, allowed ...string) error {
	for _, a := range allowed {
		if a == value {
			return nil
		}
	}
	f.Kind, f.Field, f.Value, f.Allowed = NotOneOf, field, value, strings.Join(allowed, ", ")
	return Refuse(f)
}

// Missing refuses an entry for a field that is not there.
func (f Fault) Missing(field string) error {
	f.Kind, f.Field = Absent, field
	return Refuse(f)
}
