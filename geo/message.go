package geo

import (
	"fmt"
	"strings"
	"time"
)

// Code names a message, a reason, a word or a choice in the catalogue, such as
// "reason.water-too-deep". Rooms below the faces return codes, never sentences.
type Code string

// Message is a code with its typed arguments.
type Message struct {
	Code Code  `json:"code"`
	Args []Arg `json:"args,omitempty"`
}

// Arg is one named argument of a message.
type Arg struct {
	Name  string `json:"name"`
	Value Value  `json:"value"`
}

// Value is one of the argument types below; the faces know how to write each of them in
// every language.
type Value interface{ argument() }

// The argument types. Numbers carry their unit in the type.
type (
	Metres      float64                  // a depth, thickness or length
	MetresRange struct{ Lo, Hi float64 } // a range of depths
	DistanceM   float64                  // a distance over ground, metres
	LPS         float64                  // a yield, litres per second
	Chance      float64                  // a probability in [0,1]
	ChanceRange struct{ Lo, Hi float64 } // a range of probabilities
	Count       int                      // how many
	Number      float64                  // a plain number without a unit
	Text        string                   // words as given, a name, a value as read
	Ref         Code                     // another code, such as a class name
	Month       time.Month               // a calendar month
)

func (Metres) argument()      {}
func (MetresRange) argument() {}
func (DistanceM) argument()   {}
func (LPS) argument()         {}
func (Chance) argument()      {}
func (ChanceRange) argument() {}
func (Count) argument()       {}
func (Number) argument()      {}
func (Text) argument()        {}
func (Ref) argument()         {}
func (Month) argument()       {}
func (Date) argument()        {}

// Say builds a message from a code and alternating names and values.
func Say(code Code, args ...Arg) Message { return Message{Code: code, Args: args} }

// With names one argument.
func With(name string, v Value) Arg { return Arg{Name: name, Value: v} }

// String writes the message for logs: its code and arguments.
func (m Message) String() string {
	if len(m.Args) == 0 {
		return string(m.Code)
	}
	parts := make([]string, len(m.Args))
	for i, a := range m.Args {
		parts[i] = fmt.Sprintf("%s=%v", a.Name, a.Value)
	}
	return string(m.Code) + " " + strings.Join(parts, " ")
}
