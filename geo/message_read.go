package geo

import (
	"encoding/json"
	"fmt"
)

// UnmarshalJSON reads what [Arg.MarshalJSON] writes, so that a message that was kept comes
// back as what it was.
func (a *Arg) UnmarshalJSON(data []byte) error {
	var kept struct {
		Name  string          `json:"name"`
		Type  string          `json:"type"`
		Value json.RawMessage `json:"value"`
	}
	if err := json.Unmarshal(data, &kept); err != nil {
		return err
	}
	read, ok := argumentTypes[kept.Type]
	if !ok {
		return fmt.Errorf("argument type %q", kept.Type)
	}
	v, err := read(kept.Value)
	*a = Arg{kept.Name, v}
	return err
}

// argumentTypes reads each type of argument.
var argumentTypes = map[string]func(json.RawMessage) (Value, error){
	"metres":            readArgument[Metres],
	"metres-range":      readArgument[MetresRange],
	"distance-metres":   readArgument[DistanceM],
	"litres-per-second": readArgument[LPS],
	"codes":             readArgument[Refs],
	"chance":            readArgument[Chance],
	"chance-range":      readArgument[ChanceRange],
	"count":             readArgument[Count],
	"number":            readArgument[Number],
	"text":              readArgument[Text],
	"code":              readArgument[Ref],
	"date":              readArgument[Date],
	"month":             readArgument[Month],
}

func readArgument[V Value](data json.RawMessage) (Value, error) {
	var v V
	err := json.Unmarshal(data, &v)
	return v, err
}
