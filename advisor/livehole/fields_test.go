package livehole_test

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor/livehole"
)

// Every field of the three objects is described, and nothing that is gone.
func TestEveryFieldIsDescribed(t *testing.T) {
	parts := strings.Split(livehole.Fields(), "\n## ")
	if len(parts) != 4 {
		t.Fatalf("%d parts", len(parts))
	}
	for i, of := range []reflect.Type{reflect.TypeFor[livehole.Pack](), reflect.TypeFor[livehole.Log](), reflect.TypeFor[livehole.Answer]()} {
		var told []string
		for _, m := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\|.*\\|.+\\|$").FindAllStringSubmatch(parts[i+1], -1) {
			told = append(told, m[1])
		}
		wanted := fieldsOf(of, "")
		slices.Sort(told)
		slices.Sort(wanted)
		if !slices.Equal(told, wanted) {
			t.Errorf("%v: described\n%v\nwritten\n%v", of, told, wanted)
		}
	}
}

func fieldsOf(of reflect.Type, path string) (out []string) {
	for i := range of.NumField() {
		f := of.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		field, inner := path+name, f.Type
		for inner.Kind() == reflect.Slice || inner.Kind() == reflect.Array {
			field, inner = field+"[]", inner.Elem()
		}
		out = append(out, field)
		if inner.Kind() == reflect.Struct && !strings.HasPrefix(inner.Name(), "Opt[") {
			out = append(out, fieldsOf(inner, field+".")...)
		}
	}
	return out
}
