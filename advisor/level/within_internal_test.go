package level

import (
	"math"
	"testing"
)

// Within is the inverse of Low on both scales, and 0 above the highest water that there
// may be.
func TestWithinIsTheInverseOfLow(t *testing.T) {
	for _, d := range []Distribution{
		{Mean: 1.8, FieldVar: 0.2, MicroVar: 0.05, scale: scale{shift: 2}},
		{Mean: 0.1, FieldVar: 1, scale: scale{shift: 0.5}},
		{Mean: 6, FieldVar: 1, MicroVar: 0.5, scale: scale{root: true, shift: 4}},
	} {
		for _, p := range []float64{1e-6, 0.1, 0.5, 0.77, 0.999} {
			if got := d.Within(d.Low(p)); math.Abs(got-p) > 1e-12 { // rounding of logarithms
				t.Errorf("%+v: within the quantile of %v: %v", d, p, got)
			}
		}
		if got := d.Within(-d.scale.shift - 1e-9); got != 0 {
			t.Errorf("%+v: %v above its bound", d, got)
		}
	}
	sure := Distribution{Mean: math.Log(5)}
	if sure.Within(4.9) != 0 || sure.Within(5.1) != 1 {
		t.Errorf("a low of 5 m: %v within 4.9, %v within 5.1", sure.Within(4.9), sure.Within(5.1))
	}
}
