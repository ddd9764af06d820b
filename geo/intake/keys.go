package intake

import (
	"cmp"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// unknownKeys finds the first key of a decoded JSON value that the type has no field
// for, and says what the type would have taken.
func unknownKeys(path string, value any, t reflect.Type) error {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch v := value.(type) {
	case []any:
		for i, item := range v {
			if t.Kind() != reflect.Slice {
				break
			}
			if err := unknownKeys(fmt.Sprintf("%s[%d]", path, i), item, t.Elem()); err != nil {
				return err
			}
		}
	case map[string]any:
		return unknownInObject(path, v, t)
	}
	return nil
}

func unknownInObject(path string, object map[string]any, t reflect.Type) error {
	fields := jsonFields(t)
	for _, key := range slices.Sorted(maps.Keys(object)) {
		next, known := fields[key]
		switch {
		case t.Kind() == reflect.Map:
			next = t.Elem()
		case t.Kind() != reflect.Struct:
			return nil
		case !known:
			names := strings.Join(slices.Sorted(maps.Keys(fields)), ", ")
			return fmt.Errorf("%s: no key %q here; allowed: %s", cmp.Or(path, "outermost object"), key, names)
		}
		if err := unknownKeys(join(path, key), object[key], next); err != nil {
			return err
		}
	}
	return nil
}

func jsonFields(t reflect.Type) map[string]reflect.Type {
	out := map[string]reflect.Type{}
	if t.Kind() != reflect.Struct {
		return out
	}
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		out[name] = t.Field(i).Type
	}
	return out
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
