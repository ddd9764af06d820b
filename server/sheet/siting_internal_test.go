package sheet

import "testing"

// A distance measured from a spot some way off is known to within how far the two points
// are apart (the triangle's inequality).
func TestTooNear(t *testing.T) {
	for _, c := range []struct {
		m     float64
		known bool
		away  float64
		want  string
	}{
		{12, true, 0, "near"},
		{30, true, 0, "far"},
		{29.9, true, 0, "near"},
		{25, true, 4.9, "near"},
		{25, true, 5, "measure"},
		{34, true, 5, "measure"},
		{35, true, 5, "far"},
		{0, false, 0, "not-known"},
	} {
		if got := tooNear(c.m, c.known, c.away, 30); got != c.want {
			t.Errorf("%v m, %v m off: %s, want %s", c.m, c.away, got, c.want)
		}
	}
}
