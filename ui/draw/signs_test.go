package draw_test

import (
	"reflect"
	"testing"

	"waterstrike/ui/draw"
)

// Every sign of an age differs from every other, and an age from the others.
func TestSignsDiffer(t *testing.T) {
	sign := func(key string, age int) []draw.Item {
		items, err := draw.Sign(key, age, draw.Point{})
		if err != nil {
			t.Fatal(err)
		}
		return items
	}
	for age := range 6 {
		for i, key := range draw.SignKeys() {
			for _, other := range draw.SignKeys()[:i] {
				if reflect.DeepEqual(sign(key, age), sign(other, age)) {
					t.Errorf("age %d: %s is drawn as %s", age, key, other)
				}
			}
		}
		for other := range age {
			if reflect.DeepEqual(sign("producing", age), sign("producing", other)) {
				t.Errorf("age %d is drawn as age %d", age, other)
			}
		}
	}
	for _, wrong := range []struct {
		key string
		age int
	}{{"wet", 0}, {"dry", 6}, {"dry", -1}} {
		if _, err := draw.Sign(wrong.key, wrong.age, draw.Point{}); err == nil {
			t.Errorf("%v is drawn", wrong)
		}
	}
}
