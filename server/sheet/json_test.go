package sheet_test

import (
	"bytes"
	"encoding"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/server/sheet"
)

func TestJSONGolden(t *testing.T) {
	for name, a := range map[string]advisor.Advice{"advice.json": full(), "bare.json": bare()} {
		got, err := sheet.JSON(a)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, name, string(got))
		if again, _ := sheet.JSON(a); !bytes.Equal(got, again) {
			t.Errorf("%s: the same advice gave other bytes", name)
		}
	}
}

func TestJSONRefusesWhatIsNoNumber(t *testing.T) {
	a := full()
	a.Methods[0].Chance = math.NaN()
	if out, err := sheet.JSON(a); err == nil {
		t.Errorf("NaN was written: %.80s", out)
	}
}

// TestEveryFieldIsDescribed walks the type, so that a new field cannot be forgotten, and
// the description, so that a field that is gone does not stay in it.
func TestEveryFieldIsDescribed(t *testing.T) {
	for name, c := range map[string]struct {
		of   reflect.Type
		text string
	}{"advice.md": {reflect.TypeFor[advisor.Advice](), sheet.Fields()}, "season.md": {reflect.TypeFor[season.Season](), sheet.SeasonFields()}} {
		wanted := fieldsOf(c.of, "")
		var described []string
		for _, m := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\|.*\\|.*\\|.+\\|$").FindAllStringSubmatch(c.text, -1) {
			described = append(described, m[1])
		}
		for _, field := range wanted {
			if !slices.Contains(described, field) && !strings.HasPrefix(field, "other.") { // as programme
				t.Errorf("%s does not describe %s", name, field)
			}
		}
		for _, field := range described {
			if !slices.Contains(wanted, field) {
				t.Errorf("%s describes %s, which is not written", name, field)
			}
		}
	}
}

// fieldsOf lists the paths of the JSON form of a struct, parents included.
func fieldsOf(t reflect.Type, path string) []string {
	var out []string
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous { // its fields stand in this object
			out = append(out, fieldsOf(f.Type, path)...)
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() {
			continue
		}
		if name == "" {
			name = f.Name
		}
		field, inner := path+name, f.Type
		for inner.Kind() == reflect.Slice || inner.Kind() == reflect.Array {
			field, inner = field+"[]", inner.Elem()
		}
		if inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		out = append(out, field)
		if inner.Kind() == reflect.Struct && inner != reflect.TypeFor[geo.Message]() && !strings.HasPrefix(inner.Name(), "Opt[") && !inner.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
			out = append(out, fieldsOf(inner, field+".")...)
		}
	}
	return out
}
