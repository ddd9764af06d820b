package rule

import (
	"cmp"
	"encoding"
	"reflect"
	"slices"
)

// Told is one value of some rules with its basis, to be shown.
type Told struct {
	Path    []string // field names in files, from the outside in
	Lo, Hi  float64  // equal where the value is no range
	Plain   bool     // no number: Path and Basis speak of words or of a table
	Basis   Basis
	Answers []Answer // of the sources, where they differ
}

// Answer is what one source says where sources differ.
type Answer struct {
	Code    string
	Value   float64
	Plain   bool // no number: the code names it
	Basis   Basis
	InForce bool
}

// Tell lists every value with a basis that a struct holds: fields in their order, entries
// of maps in the order of their keys.
func Tell(rules any) []Told { return tell(nil, reflect.ValueOf(rules)) }

// told is what every [Choice] can tell, whatever its type.
func (c Choice[T]) told() []Told {
	var t Told
	for _, o := range c.Options {
		v, number := any(o.Value).(float64)
		t.Answers = append(t.Answers, Answer{o.Code, v, !number, o.Basis, o.Code == c.Chosen})
		if o.Code == c.Chosen {
			t.Lo, t.Hi, t.Plain, t.Basis = v, v, !number, o.Basis
		}
	}
	return []Told{t}
}

func (n Number) told() []Told { return []Told{{Lo: n.Value, Hi: n.Value, Basis: n.Basis}} }

func (r Range) told() []Told { return []Told{{Lo: r.Lo, Hi: r.Hi, Basis: r.Basis}} }

func (b Basis) told() []Told { return []Told{{Plain: true, Basis: b}} }

func tell(path []string, v reflect.Value) []Told {
	if teller, ok := v.Interface().(interface{ told() []Told }); ok && v.Type().PkgPath() == reflect.TypeFor[Told]().PkgPath() {
		t := teller.told()
		t[0].Path = path
		if t[0].Basis.Mark == "" { // never given
			return nil
		}
		return t
	}
	switch v.Kind() {
	case reflect.Struct:
		return tellStruct(path, v)
	case reflect.Map:
		return tellMap(path, v)
	}
	return nil
}

func tellStruct(path []string, v reflect.Value) (out []Told) {
	for i := range v.NumField() {
		field := v.Type().Field(i)
		switch name := nameOf(field); {
		case field.Anonymous:
			out = append(out, tell(path, v.Field(i))...)
		case name != "":
			out = append(out, tell(append(slices.Clone(path), name), v.Field(i))...)
		}
	}
	return out
}

func tellMap(path []string, v reflect.Value) (out []Told) {
	keys := v.MapKeys()
	slices.SortFunc(keys, func(a, b reflect.Value) int { return cmp.Compare(order(a), order(b)) })
	for _, key := range keys {
		out = append(out, tell(append(slices.Clone(path), keyText(key)), v.MapIndex(key))...)
	}
	return out
}

// order is where a key stands among the others: by number where it has one.
func order(key reflect.Value) string {
	if key.CanUint() {
		return string(rune(key.Uint()))
	}
	return key.String()
}

// keyText is a key as files write it.
func keyText(key reflect.Value) string {
	if writer, own := key.Interface().(encoding.TextMarshaler); own {
		if text, err := writer.MarshalText(); err == nil {
			return string(text)
		}
	}
	return key.String()
}
