package welldesign_test

import (
	"math"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// What is loaded is never less than what four wells in five take, comes whole where it is
// sold whole, to the hundredth where it is not, and no more than that and the spares.
func TestCarryRoundsUp(t *testing.T) {
	for _, code := range []geo.Method{"auger", "percussion", "jetting", "sludging"} {
		k := kit(t, code)
		f, _, err := welldesign.Foresee([]welldesign.Possible{{Site: valley(), Weight: 2}, {Site: deeper(), Weight: 1}}, k)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range f.Loads {
			spare := 0.0
			switch l.Item {
			case welldesign.CasingPipe, welldesign.ScreenPipe, welldesign.Joints, welldesign.Glue:
				spare = max(1, l.P80*k.Rules.Pipe.Spare.Value)
			}
			step := 0.01
			switch l.Unit {
			case welldesign.Lengths, welldesign.Each, welldesign.Bag:
				step = 1
			}
			if over := l.Carry - l.P80 - spare; over < -1e-6 || over > step {
				t.Errorf("%s %s: %v loaded for %v and %v to spare", code, l.Item, l.Carry, l.P80, spare)
			}
			if whole := l.Carry / step; math.Abs(whole-math.Round(whole)) > 1e-6 {
				t.Errorf("%s %s: %v is no whole number of %v", code, l.Item, l.Carry, step)
			}
			if l.P50 > l.P80 {
				t.Errorf("%s %s: half of the wells take %v, four fifths %v", code, l.Item, l.P50, l.P80)
			}
		}
	}
}

// deeper is the valley with its sand four metres farther down.
func deeper() welldesign.Site {
	s := valley()
	s.Layers = column(soil.Topsoil, 0.5, soil.Clay, 8.0, soil.Coarse, 10.0, soil.Clay, 10.0)
	return s
}

// Water is hauled for drilling, at the place within the method's range that is asked for, and
// for the mixes, 25 L a bag in the slab and 25 to 30 L in neat cement (Driscoll, from memory),
// and to keep the slab of 1.25 m wet: 4 L a day on each square metre for a week.
func TestHauledWater(t *testing.T) {
	k := kit(t, "jetting")
	w := designed(t, valley(), k)
	if w.Verdict != welldesign.Fits {
		t.Fatalf("%+v", w.Why)
	}
	least, most := welldesign.Quantities(w, k, 0), welldesign.Quantities(w, k, 1)
	near(t, "from least to most", most[welldesign.HauledWater]-least[welldesign.HauledWater], 1000*(k.Method.WaterM3[1]-k.Method.WaterM3[0]), 1e-9)
	near(t, "in the middle", welldesign.Quantities(w, k, 0.5)[welldesign.HauledWater], (least[welldesign.HauledWater]+most[welldesign.HauledWater])/2, 1e-9)
	mixes := least[welldesign.HauledWater] - 1000*k.Method.WaterM3[0] - math.Pi*1.25*1.25*4*7
	if bags := least[welldesign.Cement]; mixes < 25*(bags-1) || mixes > 27.5*bags { // bags come whole
		t.Errorf("%v L for %v bags of cement", mixes, bags)
	}
}

// Days out are hours over the day's hours; no step but waiting goes on at night, and no step
// ends before it begins, whatever the pace.
func TestDaysAndNights(t *testing.T) {
	k := kit(t, "percussion")
	w := designed(t, valley(), k)
	day := k.Rules.Work.HoursDay.Value
	for _, z := range []float64{-2, 0, 0.8416, 2.5} {
		work := welldesign.Hours(w, k, z)
		total := work.SetUpH + work.DrillH + work.LineH + work.ApronH
		near(t, "days", work.DaysOut*day, total, 1e-9)
		near(t, "person-hours", work.CrewH, total*float64(work.People), 1e-9)
		worked := 0.0
		for _, s := range welldesign.Timetable(work, k.Rules) {
			if s.ToH < s.FromH {
				t.Errorf("%s ends at %v h and begins at %v h", s.Code, s.ToH, s.FromH)
			}
			if s.Wait {
				continue
			}
			nights := math.Floor(s.ToH/24-1e-9) - math.Floor(s.FromH/24)
			worked += s.ToH - s.FromH - max(0, nights)*(24-day)
		}
		if extra := 1 + day + day/2; worked > total+extra+1e-6 && z <= 0 { // sealing, the test, the pump
			t.Errorf("z %v: %v h worked of %v and %v", z, worked, total, extra)
		}
	}
	slow, quick := welldesign.Hours(w, k, 1), welldesign.Hours(w, k, -1)
	if slow.DaysOut <= quick.DaysOut || slow.SetUpH != quick.SetUpH {
		t.Errorf("slow %+v, quick %+v", slow, quick)
	}
}

// A pipe is cut into lengths as sold and bought in whole ones: no piece is longer than those
// that are sold, none so short that two joints do not hold it, and together they reach from
// above the ground to the foot of the well.
func TestPiecesAddUp(t *testing.T) {
	k := kit(t, "auger")
	for _, top := range []float64{3, 4.2, 5.55, 7, 9.31} {
		s := valley()
		s.Layers = column(soil.Topsoil, 0.5, soil.Clay, top, soil.Coarse, 10.0, soil.Clay, 10.0)
		w := designed(t, s, k)
		if w.Verdict != welldesign.Fits {
			continue
		}
		length, last := 0.0, math.Inf(1)
		for _, p := range welldesign.Pieces(w, k.Rules) {
			length += p.LengthM
			if p.LengthM > k.Rules.Pipe.Piece.Value+1e-9 || p.LengthM <= 0 || p.BaseM > last+1e-9 {
				t.Errorf("top %v: piece %+v", top, p)
			}
			last = p.TopM
		}
		near(t, "all pieces", length, w.BottomM+k.Rules.Pipe.StickUp.Value, 0.02)
		q := welldesign.Quantities(w, k, 0.5)
		if bought := (q[welldesign.CasingPipe] + q[welldesign.ScreenPipe]) * k.Rules.Pipe.Piece.Value; bought < length-1e-6 || bought > length+2*k.Rules.Pipe.Piece.Value {
			t.Errorf("top %v: %v m bought for %v m", top, bought, length)
		}
	}
}
