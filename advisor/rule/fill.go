package rule

import (
	"encoding"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// Fill reads one JSON object into the struct that into points to. Fields that the object
// does not name keep what they hold: that is how a programme's file changes the defaults.
// Structs and maps of structs are gone into; everything else reads itself.
//
// A field that is not known or cannot be read is a [Fault] at at.
func Fill(at Fault, data []byte, into any) error {
	if err := readable(at.File, data); err != nil {
		return err
	}
	return fill(at, data, reflect.ValueOf(into).Elem())
}

func fill(at Fault, data []byte, into reflect.Value) error {
	data = trimmed(data)
	if string(data) == "null" { // left out is left out; null would pass for 0
		return at.unread(data)
	}
	switch {
	case readsItself(into):
		if exactly(data, into.Addr().Interface()) != nil {
			return at.unread(data)
		}
		return nil
	case into.Kind() == reflect.Map:
		return fillMap(at, data, into)
	}
	return fillStruct(at, data, into)
}

// readsItself reports that a value is no struct and no map of structs of ours to go into.
func readsItself(v reflect.Value) bool {
	if _, own := v.Addr().Interface().(json.Unmarshaler); own {
		return true
	}
	switch v.Kind() {
	case reflect.Struct:
		return false
	case reflect.Map:
		return v.Type().Elem().Kind() != reflect.Struct
	}
	return true
}

func fillStruct(at Fault, data []byte, into reflect.Value) error {
	parts, err := at.parts(data)
	if err != nil {
		return err
	}
	fields := fieldsOf(into)
	rebase(parts, fields, into)
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		field, known := fields[name]
		if !known {
			at.Kind, at.Field, at.Allowed = UnknownField, join(at.Field, name), strings.Join(slices.Sorted(maps.Keys(fields)), ", ")
			return Refuse(at)
		}
		next := at
		next.Field = join(at.Field, name)
		if err := fill(next, parts[name], field); err != nil {
			return err
		}
	}
	if based, ok := into.Addr().Interface().(interface{ settle() error }); ok && based.settle() != nil {
		return at.unread(data)
	}
	return nil
}

// rebase gives the basis of a struct that has one to the programme, where its words are
// changed and nothing is said of their origin; numbers within have a basis of their own.
func rebase(parts map[string]json.RawMessage, fields map[string]reflect.Value, into reflect.Value) {
	embedded := into.FieldByName("Basis")
	if !embedded.IsValid() || parts["source"] != nil || parts["mark"] != nil {
		return
	}
	for name := range parts {
		if field := fields[name]; field.IsValid() && field.Kind() != reflect.Struct {
			embedded.Set(reflect.ValueOf(Basis{Mark: Own}))
		}
	}
}

func fillMap(at Fault, data []byte, into reflect.Value) error {
	parts, err := at.parts(data)
	if err != nil {
		return err
	}
	filled := reflect.MakeMap(into.Type())
	for _, key := range into.MapKeys() { // a copy: the map may be shared with the defaults
		filled.SetMapIndex(key, into.MapIndex(key))
	}
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		key := reflect.New(into.Type().Key())
		if !readKey(name, key) {
			at.Kind, at.Field = UnknownField, join(at.Field, name)
			return Refuse(at)
		}
		value := reflect.New(into.Type().Elem()).Elem()
		if old := filled.MapIndex(key.Elem()); old.IsValid() {
			value.Set(old)
		}
		next := at
		next.Field = join(at.Field, name)
		if err := fill(next, parts[name], value); err != nil {
			return err
		}
		filled.SetMapIndex(key.Elem(), value)
	}
	into.Set(filled)
	return nil
}

// readKey reads the name of an entry of a map.
func readKey(name string, key reflect.Value) bool {
	if reader, own := key.Interface().(encoding.TextUnmarshaler); own {
		return reader.UnmarshalText([]byte(name)) == nil
	}
	key.Elem().SetString(name)
	return true
}

// parts splits an object into its fields.
func (f Fault) parts(data []byte) (map[string]json.RawMessage, error) {
	var parts map[string]json.RawMessage
	if json.Unmarshal(data, &parts) != nil || parts == nil {
		return nil, f.unread(data)
	}
	return parts, nil
}

// unread is a value that cannot be read as what its field holds.
func (f Fault) unread(data []byte) error {
	const shown = 60
	f.Kind, f.Value = WrongValue, string(data)
	if f.Field == "" {
		f.Kind = NotAnObject
	}
	if text := []rune(f.Value); len(text) > shown {
		f.Value = string(text[:shown]) + "…"
	}
	return Refuse(f)
}

// fieldsOf are the fields of a struct by their names in files.
func fieldsOf(v reflect.Value) map[string]reflect.Value {
	out := map[string]reflect.Value{}
	for i := range v.NumField() {
		field := v.Type().Field(i)
		if field.Anonymous && field.Tag.Get("json") == "" {
			for name, inner := range fieldsOf(v.Field(i)) {
				out[name] = inner
			}
			continue
		}
		if name := nameOf(field); name != "" {
			out[name] = v.Field(i)
		}
	}
	return out
}

// nameOf is a field's name in files; empty where it has none.
func nameOf(field reflect.StructField) string {
	name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
	if name == "-" || !field.IsExported() {
		return ""
	}
	return name
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func trimmed(data []byte) []byte { return []byte(strings.TrimSpace(string(data))) }
