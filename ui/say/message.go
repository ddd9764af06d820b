package say

// Message is a code of the catalogue with the arguments its text asks for.
type Message struct {
	Code string
	Args []Arg
}

// Arg gives a placeholder its value.
type Arg struct {
	Name  string
	Value Value
}

// Msg makes a message: say.Msg("reason.water-too-deep", say.With("depth", say.Metres(24))).
func Msg(code string, args ...Arg) Message { return Message{Code: code, Args: args} }

// With makes an argument.
func With(name string, v Value) Arg { return Arg{Name: name, Value: v} }

func (m Message) arg(name string) (Value, bool) {
	for _, a := range m.Args {
		if a.Name == name {
			return a.Value, true
		}
	}
	return Value{}, false
}
