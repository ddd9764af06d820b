package store

import (
	"encoding/json"
	"fmt"

	"waterstrike/geo"
)

// argument is one argument of a message as it is kept: with the name of its type, so
// that it comes back as what it was.
type argument struct {
	Name  string          `json:"name"`
	Type  string          `json:"type"`
	Value json.RawMessage `json:"value"`
}

type message struct {
	Code geo.Code   `json:"code"`
	Args []argument `json:"args,omitempty"`
}

// argumentTypes names the types of argument and reads each.
var argumentTypes = map[string]func(json.RawMessage) (geo.Value, error){
	"geo.Metres":      readArgument[geo.Metres],
	"geo.MetresRange": readArgument[geo.MetresRange],
	"geo.DistanceM":   readArgument[geo.DistanceM],
	"geo.LPS":         readArgument[geo.LPS],
	"geo.Chance":      readArgument[geo.Chance],
	"geo.ChanceRange": readArgument[geo.ChanceRange],
	"geo.Count":       readArgument[geo.Count],
	"geo.Number":      readArgument[geo.Number],
	"geo.Text":        readArgument[geo.Text],
	"geo.Ref":         readArgument[geo.Ref],
	"geo.Date":        readArgument[geo.Date],
	"geo.Month":       readArgument[geo.Month],
}

func readArgument[V geo.Value](data json.RawMessage) (geo.Value, error) {
	var v V
	err := json.Unmarshal(data, &v)
	return v, err
}

// putMessage writes a message so that it can be read again.
func putMessage(m geo.Message) (string, error) {
	out := message{Code: m.Code}
	for _, a := range m.Args {
		data, err := json.Marshal(a.Value)
		if err != nil {
			return "", err
		}
		out.Args = append(out.Args, argument{a.Name, fmt.Sprintf("%T", a.Value), data})
	}
	data, err := json.Marshal(out)
	return string(data), err
}

func messageOf(text string) (geo.Message, error) {
	var in message
	if err := json.Unmarshal([]byte(text), &in); err != nil {
		return geo.Message{}, err
	}
	out := geo.Message{Code: in.Code}
	for _, a := range in.Args {
		read, ok := argumentTypes[a.Type]
		if !ok {
			return geo.Message{}, fmt.Errorf("argument type %q", a.Type)
		}
		v, err := read(a.Value)
		if err != nil {
			return geo.Message{}, err
		}
		out.Args = append(out.Args, geo.With(a.Name, v))
	}
	return out, nil
}
