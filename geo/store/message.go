package store

import (
	"encoding/json"
	"fmt"

	"waterstrike/geo"
)

// keptMessage is a message as its own JSON writes it: each argument with the name of its type,
// so that it comes back as what it was.
type keptMessage struct {
	Code geo.Code `json:"code"`
	Args []struct {
		Name  string          `json:"name"`
		Type  string          `json:"type"`
		Value json.RawMessage `json:"value"`
	} `json:"args"`
}

// argumentTypes reads each type of argument.
var argumentTypes = map[string]func(json.RawMessage) (geo.Value, error){
	"metres":            readArgument[geo.Metres],
	"metres-range":      readArgument[geo.MetresRange],
	"distance-metres":   readArgument[geo.DistanceM],
	"litres-per-second": readArgument[geo.LPS],
	"chance":            readArgument[geo.Chance],
	"chance-range":      readArgument[geo.ChanceRange],
	"count":             readArgument[geo.Count],
	"number":            readArgument[geo.Number],
	"text":              readArgument[geo.Text],
	"code":              readArgument[geo.Ref],
	"date":              readArgument[geo.Date],
	"month":             readArgument[geo.Month],
}

func readArgument[V geo.Value](data json.RawMessage) (geo.Value, error) {
	var v V
	err := json.Unmarshal(data, &v)
	return v, err
}

func messageOf(text string) (geo.Message, error) {
	var in keptMessage
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
