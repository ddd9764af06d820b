package krige_test

import (
	"math"
	"slices"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// What making the reference numbers taught about kriging, a test each; the first two
// stand in advisor/variogram, the seventh in geo/coord.

// Coordinates as they come, squared: the solver must centre and scale a drift itself.
// The reference library, which does not, is off by 3e-5 here.
func TestLesson3DriftIsCentred(t *testing.T) {
	square := func(p krige.XY) []float64 { return []float64{p.X, p.Y, p.X * p.X, p.Y * p.Y, p.X * p.Y} }
	data := edit(meuse(t), func(_ int, d *krige.Datum) { d.Drift = square(d.XY) })
	s := solver(t, data, spherical(t), universal(t, 5))
	cells, want, raw := reference(t, "meuse/targets25.csv"), reference(t, "meuse/uk_xy2_centred.csv"), reference(t, "meuse/uk_targets25.csv")
	worst, theirs := 0.0, 0.0
	for i := range cells.Rows {
		got, err := s.Predict(cells.at(i), square(cells.at(i))...)
		if err != nil {
			t.Fatal(err)
		}
		worst = max(worst, math.Abs(got.Mean-want.Number(i, "pred")), math.Abs(got.Variance-want.Number(i, "var")))
		theirs = max(theirs, math.Abs(raw.Number(i, "uk_xy2_global_pred")-want.Number(i, "pred")))
	}
	// Squares near 1e11 hold 1e-5 m², of some 1e9 m² that they vary by.
	if worst > 1e-9 || theirs < 1e-5 {
		t.Errorf("off by %g, the reference library by %g; trend condition number %.3g", worst, theirs, s.TermCondition())
	}
}

// The nearest by plain distance are other data, and give another answer.
func TestLesson4NeighboursByReducedDistance(t *testing.T) {
	a := variogram.Anisotropy{AzimuthDeg: 30, Ratio: 0.5}
	m := structure(t, variogram.FamilySpherical, 0.0507, 0.591, 1200)
	data := plain(meuse(t))
	right := local(t, data, m, krige.Ordinary{}, krige.Neighbourhood{Nearest: 16, Anisotropy: a})
	plainly := local(t, data, m, krige.Ordinary{}, krige.Neighbourhood{Nearest: 16})
	s, err := krige.NewSolver(m, krige.Ordinary{})
	if err != nil {
		t.Fatal(err)
	}
	cells, want := reference(t, "meuse/targets25.csv"), reference(t, "aniso/ok_anis2d_n16_by_anisotropic_distance.csv")
	others, off := 0, 0.0
	for i := range cells.Rows {
		at := cells.at(i)
		got, err1 := right.Predict(at)
		_, err2 := plainly.Predict(at)
		if err1 != nil || err2 != nil || !near(got.Mean, want.Number(i, "sph_pred"), refTol) {
			t.Fatal(got, err1, err2)
		}
		a1, a2 := slices.Sorted(slices.Values(right.Neighbours())), slices.Sorted(slices.Values(plainly.Neighbours()))
		if !slices.Equal(a1, a2) {
			others++
		}
		var wrong []krige.Datum
		for _, k := range a2 {
			d := data[k]
			d.XY = a.Reduce(d.XY)
			wrong = append(wrong, d)
		}
		e, err := s.Solve(wrong, a.Reduce(at))
		if err != nil {
			t.Fatal(err)
		}
		off = max(off, math.Abs(e.Mean-got.Mean))
	}
	if others < 20 || off < 0.05 {
		t.Errorf("%d of 25 targets have other neighbours by plain distance, answers differ by %g: the lesson would not matter", others, off)
	}
}

// The same nugget as micro-scale variance jumps at a datum; as reading error it is
// filtered out and the surface is smooth there.
func TestLesson5TwoNuggets(t *testing.T) {
	data := plain(meuse(t))
	jump := solver(t, data, spherical(t), krige.Ordinary{}).Predict
	read := edit(data, func(_ int, d *krige.Datum) { d.ErrVar = 0.0507 })
	smooth := solver(t, read, structure(t, variogram.FamilySpherical, 0, 0.591, 897), krige.Ordinary{}).Predict
	step := func(f predict) float64 {
		on, err1 := f(data[0].XY)
		off, err2 := f(krige.XY{X: data[0].X + 1e-6, Y: data[0].Y})
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		return math.Abs(on.Mean - off.Mean)
	}
	// 0.045 is the difference of the first two rows of awkward_targets.csv.
	if a, b := step(jump), step(smooth); a < 0.04 || b > 1e-6 {
		t.Errorf("step at a datum: micro-scale %g, want 0.045; reading error %g, want 0", a, b)
	}
	// Off the data they differ by the variance of a new spot alone.
	at := krige.XY{X: 181180, Y: 333740}
	a, err1 := jump(at)
	b, err2 := smooth(at)
	if err1 != nil || err2 != nil || !near(a.Mean, b.Mean, 1e-12) || !near(a.Variance, b.Variance+0.0507, 1e-12) {
		t.Errorf("%+v, %+v, %v, %v", a, b, err1, err2)
	}
}

// Indicators kriged here leave [0, 1]; the two rules mend them as gstat does.
func TestLesson6OrderCorrection(t *testing.T) {
	raw, want := reference(t, "meuse/ik_targets25_raw.csv"), reference(t, "meuse/ik_targets25_n16_ordercorrected.csv")
	ground := reference(t, "meuse/meuse.csv")
	m := structure(t, variogram.FamilySpherical, 0.05, 0.15, 700)
	indicator := func(is func(row int) bool) *krige.Predictor {
		return local(t, edit(plain(meuse(t)), func(i int, d *krige.Datum) {
			d.Value = 0
			if is(i) {
				d.Value = 1
			}
		}), m, krige.Ordinary{}, krige.Neighbourhood{Nearest: 16})
	}
	for _, c := range []struct {
		cols  []string
		is    func(col, row int) bool
		order func([]float64) error
	}{
		{[]string{"soil1", "soil2", "soil3"}, func(col, row int) bool { return ground.Number(row, "soil") == float64(col+1) }, krige.OrderShares},
		{[]string{"zincLE200", "zincLE400", "zincLE800"}, func(col, row int) bool {
			return ground.Number(row, "zinc") <= []float64{200, 400, 800}[col]
		}, krige.OrderCumulative},
	} {
		outside := 0
		predictors := make([]*krige.Predictor, 3)
		for k := range c.cols {
			predictors[k] = indicator(func(row int) bool { return c.is(k, row) })
		}
		for i := range raw.Rows {
			p := make([]float64, 3)
			for k, col := range c.cols {
				e, err := predictors[k].Predict(raw.at(i))
				if err != nil || !near(e.Mean, raw.Number(i, col+"_n16_pred"), refTol) {
					t.Errorf("%s row %d: %g, want %v, %v", col, i, e.Mean, raw.Rows[i], err)
				}
				p[k] = e.Mean
				if p[k] < 0 || p[k] > 1 || c.cols[0] == "zincLE200" && k > 0 && p[k] < p[k-1] {
					outside++
				}
			}
			if err := c.order(p); err != nil {
				t.Fatal(err)
			}
			for k, col := range c.cols {
				if !near(p[k], want.Number(i, col), refTol) {
					t.Errorf("%s row %d: %g, want %v", col, i, p[k], want.Rows[i])
				}
			}
		}
		if outside == 0 {
			t.Errorf("%v: nothing to correct", c.cols)
		}
	}
	if err := krige.OrderShares([]float64{-1, 0}); err == nil {
		t.Error("shares of nothing")
	}
	if err := krige.OrderCumulative([]float64{math.NaN()}); err == nil {
		t.Error("NaN")
	}
}

// Global leave-one-out by the closed form, as exactly as it was made.
func TestLesson8ClosedFormLeaveOneOut(t *testing.T) {
	tab := reference(t, "meuse/loocv.csv")
	got, err := solver(t, plain(meuse(t)), spherical(t), krige.Ordinary{}).LeaveOneOut()
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i, e := range got {
		worst = max(worst, math.Abs(e.Mean-tab.Number(i, "ok_global_pred")), math.Abs(e.Variance-tab.Number(i, "ok_global_var")))
	}
	if worst > 1e-12 { // two solvers agreed to 2e-13
		t.Errorf("off by %g", worst)
	}
}
