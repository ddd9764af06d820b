package publish

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
)

// TestEveryFieldHasAColumn finds the fields of a record that no column writes: one that is
// added to a record has to be added here, or named as left out.
func TestEveryFieldHasAColumn(t *testing.T) {
	const batch = "source.batch" // an import gives its own
	check(t, slices.Concat(boreColumns(), boreParts()), batch)
	check(t, villageColumns(), batch)
	check(t, slices.Concat(waterPointColumns(), waterPointParts()), batch)
	check(t, boundaryColumns(), batch, "shape") // the geometry
	check(t, riverColumns(), batch, "line")     // the geometry
	check(t, layerColumns())
	check(t, strikeColumns())
	check(t, levelColumns())
	check(t, pipeColumns())
	check(t, fillColumns())
	check(t, testColumns(), "readings") // a table of their own
	check(t, testReadingColumns())
	check(t, sampleColumns())
	check(t, visitColumns())
}

func check[T any](t *testing.T, columns []column[T], leftOut ...string) {
	t.Helper()
	got := leftOut
	for _, c := range columns {
		got = append(got, c.path)
	}
	want := members(reflect.TypeFor[T](), "")
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("%s: columns for %v, fields %v", reflect.TypeFor[T]().Name(), got, want)
	}
}

// members lists the members of a record's JSON that stand for one value each; a list or a
// map is one.
func members(of reflect.Type, path string) []string {
	if of == reflect.TypeFor[geo.Date]() {
		return []string{path}
	}
	if strings.HasPrefix(of.Name(), "Opt[") {
		return members(of.Field(0).Type, path)
	}
	if of.Kind() != reflect.Struct {
		return []string{path}
	}
	var out []string
	for i := range of.NumField() {
		name, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
		if path != "" {
			name = path + "." + name
		}
		out = append(out, members(of.Field(i).Type, name)...)
	}
	return out
}
