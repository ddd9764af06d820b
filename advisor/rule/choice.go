package rule

import (
	"encoding/json"
	"fmt"
)

// Option is one published answer to a question that sources answer differently.
type Option[T any] struct {
	Code  string `json:"code"`
	Value T      `json:"value"`
	Basis
}

// Choice holds the answers of several sources and which of them is in force.
type Choice[T any] struct {
	Chosen  string      `json:"chosen"`
	Options []Option[T] `json:"options"`
}

// ownOption is the code of an answer that a programme gives itself.
const ownOption = "own"

// Value returns the answer in force.
func (c Choice[T]) Value() T { return c.Option().Value }

// Option returns the answer in force with its code and basis; the zero option where the
// choice was never read.
func (c Choice[T]) Option() Option[T] {
	for _, o := range c.Options {
		if o.Code == c.Chosen {
			return o
		}
	}
	return Option[T]{}
}

// Choose returns the choice with another option in force; ok is false where there is no
// such option.
func (c Choice[T]) Choose(code string) (out Choice[T], ok bool) {
	c.Chosen = code
	return c, c.Option().Code != ""
}

// UnmarshalJSON reads {"chosen": ..., "options": [...]}, of which either may be left out:
// options are added to those that are there, or take their place by code. Any other value
// is the programme's own answer.
func (c *Choice[T]) UnmarshalJSON(data []byte) error {
	var parts map[string]json.RawMessage
	if json.Unmarshal(data, &parts) == nil && (parts["chosen"] != nil || parts["options"] != nil) {
		return c.merge(data)
	}
	var own T
	if err := exactly(data, &own); err != nil {
		return err
	}
	c.put(Option[T]{ownOption, own, Basis{Mark: Own}})
	c.Chosen = ownOption
	return nil
}

func (c *Choice[T]) merge(data []byte) error {
	var read struct {
		Chosen  *string           `json:"chosen"`
		Options []json.RawMessage `json:"options"`
	}
	if err := strictly(data, &read); err != nil {
		return err
	}
	for _, raw := range read.Options {
		var o Option[T]
		if err := strictly(raw, &o); err != nil {
			return err
		}
		if o.Code == "" {
			return fmt.Errorf("an option has no code")
		}
		if err := o.settle(); err != nil {
			return fmt.Errorf("option %q: %w", o.Code, err)
		}
		c.put(o)
	}
	if read.Chosen != nil {
		c.Chosen = *read.Chosen
	}
	if c.Option().Code == "" {
		return fmt.Errorf("chosen %q is not one of %q", c.Chosen, c.codes())
	}
	return nil
}

// put adds an option or replaces the one of its code. The list is made anew: it may be
// shared with the defaults.
func (c *Choice[T]) put(o Option[T]) {
	options := make([]Option[T], 0, len(c.Options)+1)
	replaced := false
	for _, old := range c.Options {
		if old.Code == o.Code {
			old, replaced = o, true
		}
		options = append(options, old)
	}
	if !replaced {
		options = append(options, o)
	}
	c.Options = options
}

func (c *Choice[T]) codes() []string {
	out := make([]string, len(c.Options))
	for i, o := range c.Options {
		out[i] = o.Code
	}
	return out
}

// exactly reads a value and, where it is an object, refuses fields that it does not know.
func exactly(data []byte, into any) error {
	if len(data) > 0 && data[0] == '{' {
		return strictly(data, into)
	}
	if string(data) == "null" {
		return fmt.Errorf("null is no value")
	}
	return json.Unmarshal(data, into)
}
