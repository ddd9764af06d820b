package draw_test

import (
	"math"
	"strconv"
	"testing"

	"waterstrike/ui/draw"
)

func estimates() []draw.Estimate {
	var out []draw.Estimate
	for i := range 9 {
		v := 14 - 4*float64(i)
		out = append(out, draw.Estimate{Name: "height over something " + strconv.Itoa(i+1), Value: v, Lo: v - 3 - float64(i), Hi: v + 4})
	}
	return out
}

func estimatesPlot() (draw.Scene, error) {
	return draw.Estimates(estimates(), sheetOptions("es-", "What the land says", "Change (%)", ""))
}

func courseMonths() (out [12]draw.CourseMonth) {
	for i := range out {
		said := 1.5 - 1.5*math.Cos(2*math.Pi*float64(i-4)/12)
		out[i] = draw.CourseMonth{Name: "JFMAMJJASOND"[i : i+1], Said: said, Lo: said - 0.5, Hi: said + 0.7}
		if i != 7 { // a month without readings
			out[i].Read, out[i].ReadLo, out[i].ReadHi, out[i].N = said+0.1, said-0.4, said+0.9, 3+i
		}
	}
	return out
}

func coursePlot() (draw.Scene, error) {
	return draw.Course(courseMonths(), sheetOptions("co-", "The course of the year", "Month", "Above the low (m)"))
}

// Each mark stands at its value on the axis, the first row on top.
func TestEstimatesStandAtTheirValues(t *testing.T) {
	s := made(t, estimatesPlot)
	frame, ticks := frameOf(t, s), ticksOf(t, s)
	lo, hi := ticks[0], ticks[len(ticks)-1]
	rows, last := estimates(), 0.0
	i := 0
	for _, it := range marksOf(t, s) {
		c, ok := it.(draw.Circle)
		if !ok {
			continue
		}
		value := lo + (hi-lo)*(c.Center.X-frame.X)/frame.WidthMM
		if math.Abs(value-rows[i].Value) > 1e-6*(hi-lo) || c.Center.Y <= last {
			t.Errorf("row %d stands at %v, %v mm down, want %v below %v mm", i, value, c.Center.Y, rows[i].Value, last)
		}
		last = c.Center.Y
		i++
	}
	if i != len(rows) {
		t.Errorf("%d marks for %d rows", i, len(rows))
	}
}

// A month without readings has no mark, and the others stand over their names.
func TestCourseMarksMonthsThatWereRead(t *testing.T) {
	s := made(t, coursePlot)
	frame := frameOf(t, s)
	var at []int
	for _, it := range marksOf(t, s) {
		if c, ok := it.(draw.Circle); ok {
			at = append(at, int((c.Center.X-frame.X)/frame.WidthMM*12))
		}
	}
	if len(at) != 11 || at[6] != 6 || at[7] != 8 {
		t.Errorf("marks in months %v", at)
	}
}

func TestEstimatesAndCourseRefuseBadRanges(t *testing.T) {
	o := sheetOptions("x-", "t", "x", "y")
	for _, bad := range []draw.Estimate{{Value: 2, Lo: 3, Hi: 4}, {Value: math.NaN()}, {Value: 1, Lo: 0, Hi: math.Inf(1)}} {
		if _, err := draw.Estimates([]draw.Estimate{bad}, o); err == nil {
			t.Errorf("%+v is drawn", bad)
		}
	}
	months := courseMonths()
	months[3].ReadLo = months[3].Read + 1
	if _, err := draw.Course(months, o); err == nil {
		t.Error("a month whose reading lies outside its own range is drawn")
	}
	if s, err := draw.Estimates(nil, o); err != nil || len(marksOrNone(s)) > 0 {
		t.Errorf("no rows: %v", err)
	}
}

func marksOrNone(s draw.Scene) []draw.Item {
	for _, it := range s.Items {
		if g, ok := it.(draw.Group); ok {
			return g.Items
		}
	}
	return nil
}
