package geo

import (
	"encoding/json"
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
	Name  string
	Value Value
}

// MarshalJSON writes the argument with the type of its value, so that a program can read
// it without the catalogue:
//
//	{"name": "depth", "type": "metres", "value": 7.2}
//	{"name": "depth", "type": "metres-range", "value": {"lo": 6, "hi": 9}}
//	{"name": "since", "type": "date", "value": "2004-03"}
//
// The types are metres, metres-range, distance-metres, litres-per-second, chance and
// chance-range (of [0,1]), count, number, text, code, codes, month (1 to 12) and date (ISO 8601,
// as precise as it is known).
func (a Arg) MarshalJSON() ([]byte, error) {
	if a.Value == nil {
		return nil, fmt.Errorf("geo: argument %q has no value", a.Name)
	}
	return json.Marshal(struct {
		Name  string `json:"name"`
		Type  string `json:"type"`
		Value Value  `json:"value"`
	}{a.Name, a.Value.argument(), a.Value})
}

// Value is one of the argument types below; the faces know how to write each of them in
// every language.
type Value interface {
	argument() string // the name of the type in JSON
}

// The argument types. Numbers carry their unit in the type.
type (
	Metres      float64  // a depth, thickness or length
	MetresRange struct { // a range of depths
		Lo float64 `json:"lo"`
		Hi float64 `json:"hi"`
	}
	DistanceM   float64  // a distance over ground, metres
	LPS         float64  // a yield, litres per second
	Chance      float64  // a probability in [0,1]
	ChanceRange struct { // a range of probabilities
		Lo float64 `json:"lo"`
		Hi float64 `json:"hi"`
	}
	Count  int        // how many
	Number float64    // a plain number without a unit
	Text   string     // words as given, a name, a value as read
	Ref    Code       // another code, such as a class name
	Refs   []Code     // several of them, to be listed
	Month  time.Month // a calendar month
)

func (Metres) argument() string      { return "metres" }
func (MetresRange) argument() string { return "metres-range" }
func (DistanceM) argument() string   { return "distance-metres" }
func (LPS) argument() string         { return "litres-per-second" }
func (Chance) argument() string      { return "chance" }
func (ChanceRange) argument() string { return "chance-range" }
func (Count) argument() string       { return "count" }
func (Number) argument() string      { return "number" }
func (Text) argument() string        { return "text" }
func (Ref) argument() string         { return "code" }
func (Refs) argument() string        { return "codes" }
func (Month) argument() string       { return "month" }
func (Date) argument() string        { return "date" }

// Say builds a message from a code and its arguments, each made by [With].
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
