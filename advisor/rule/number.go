package rule

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// Number is one value with its basis. A file writes it as an object, or as a bare number
// that is the programme's own.
type Number struct {
	Value float64 `json:"value"`
	Basis
}

// UnmarshalJSON reads an object or a bare number.
func (n *Number) UnmarshalJSON(data []byte) error {
	var bare float64
	if isNumber(data) && json.Unmarshal(data, &bare) == nil {
		*n = Number{bare, Basis{Mark: Own}}
		return nil
	}
	read := struct {
		Value *float64 `json:"value"`
		Basis
	}{}
	if err := strictly(data, &read); err != nil {
		return err
	}
	if read.Value == nil {
		return errors.New("value is missing")
	}
	*n = Number{*read.Value, read.Basis}
	return n.settle()
}

// Range is a lower and an upper value with their basis. A file writes it as an object, or
// as a list of two numbers that is the programme's own.
type Range struct {
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
	Basis
}

// UnmarshalJSON reads an object or a list of two numbers, the lower one first.
func (r *Range) UnmarshalJSON(data []byte) error {
	var bare []float64
	read := struct {
		Lo *float64 `json:"lo"`
		Hi *float64 `json:"hi"`
		Basis
	}{}
	if json.Unmarshal(data, &bare) == nil && len(bare) == 2 {
		read.Lo, read.Hi = &bare[0], &bare[1]
	} else if err := strictly(data, &read); err != nil {
		return err
	}
	if read.Lo == nil || read.Hi == nil {
		return errors.New("lo and hi are both needed")
	}
	if *read.Lo > *read.Hi {
		return fmt.Errorf("lo %v lies above hi %v", *read.Lo, *read.Hi)
	}
	*r = Range{*read.Lo, *read.Hi, read.Basis}
	return r.settle()
}

// isNumber reports that a JSON value begins as a number does.
func isNumber(data []byte) bool {
	return len(data) > 0 && (data[0] == '-' || data[0] >= '0' && data[0] <= '9')
}

// strictly reads an object and refuses fields that it does not know.
func strictly(data []byte, into any) error {
	if len(data) == 0 || data[0] != '{' {
		return errors.New("an object is expected")
	}
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	return decoder.Decode(into)
}
