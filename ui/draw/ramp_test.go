package draw_test

import (
	"math"
	"strconv"
	"testing"

	"waterstrike/ui/draw"
)

// luminance is the relative luminance of a colour; WCAG 2.2 defines it.
func luminanceOf(t *testing.T, colour string) float64 {
	t.Helper()
	bits, err := strconv.ParseUint(colour[1:], 16, 24)
	if err != nil || len(colour) != 7 {
		t.Fatalf("%q is no colour", colour)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		c := float64(bits>>(16-8*i)&255) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// Every class of every ramp is told from its neighbours by how light it is alone: by at
// least 5 of the 100 steps of lightness in CIE 1976 L*, of which a practised eye tells
// about one.
func TestRampsAreToldWithoutHues(t *testing.T) {
	lightness := func(colour string) float64 {
		y := luminanceOf(t, colour)
		if y > 216.0/24389 {
			return 116*math.Cbrt(y) - 16
		}
		return y * 24389 / 27
	}
	for _, name := range draw.Ramps() {
		r, ok := draw.RampOf(name)
		if !ok || len(r.Colours) != len(r.Limits)+1 {
			t.Fatalf("%s: %+v", name, r)
		}
		for i, colour := range r.Colours[1:] {
			if step := lightness(r.Colours[i]) - lightness(colour); step < 5 {
				t.Errorf("%s: class %d is lighter than %d by %.1f", name, i, i+1, step)
			}
		}
	}
	if _, ok := draw.RampOf("none"); ok {
		t.Error("a ramp of nothing")
	}
}

func TestRampClass(t *testing.T) {
	r, _ := draw.RampOf("chance")
	for v, want := range map[float64]int{-1: 0, 0: 0, 0.1999: 0, 0.2: 1, 0.5: 2, 0.8: 4, 1: 4} {
		if got := r.Class(v); got != want {
			t.Errorf("%v is in class %d, want %d", v, got, want)
		}
	}
}
