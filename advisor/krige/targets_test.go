package krige_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// compare checks one pair of reference columns; NA there means too few data.
func compare(t *testing.T, tab table, prefix string, f predict, drift func(row int) []float64) {
	t.Helper()
	for i, row := range tab.Rows {
		var d []float64
		if drift != nil {
			d = drift(i)
		}
		got, err := f(tab.at(i), d...)
		if row[prefix+"_pred"] == "NA" {
			if !errors.Is(err, variogram.ErrTooFewData) {
				t.Errorf("%s row %d: %v, %v, want too few data", prefix, i, got, err)
			}
			continue
		}
		if err != nil || !near(got.Mean, tab.Number(i, prefix+"_pred"), refTol) || !near(got.Variance, tab.Number(i, prefix+"_var"), refTol) {
			t.Errorf("%s row %d: %+v, %v, want %s and %s", prefix, i, got, err, row[prefix+"_pred"], row[prefix+"_var"])
		}
	}
}

// Block kriging is not offered, so the reference's block column is left out.
func TestTargetsReference(t *testing.T) {
	data := plain(meuse(t))
	sph, exp := spherical(t), exponential(t)
	nearest := func(m variogram.Model, hood krige.Neighbourhood) predict {
		return local(t, data, m, krige.Ordinary{}, hood).Predict
	}
	tab := reference(t, "meuse/ok_targets25.csv")
	for prefix, f := range map[string]predict{
		"ok_global":         solver(t, data, sph, krige.Ordinary{}).Predict,
		"ok_n16":            nearest(sph, krige.Neighbourhood{Nearest: 16}),
		"ok_n8":             nearest(sph, krige.Neighbourhood{Nearest: 8}),
		"ok_maxd500_n16":    nearest(sph, krige.Neighbourhood{Nearest: 16, DistanceM: 500}),
		"ok_maxd200_nmin4":  nearest(sph, krige.Neighbourhood{Nearest: 16, DistanceM: 200, AtLeast: 4}),
		"ok_exp_global":     solver(t, data, exp, krige.Ordinary{}).Predict,
		"ok_exp_n16":        nearest(exp, krige.Neighbourhood{Nearest: 16}),
		"sk_beta5.9_global": solver(t, data, sph, simple(t, 5.9)).Predict,
	} {
		compare(t, tab, prefix, f, nil)
	}
}

func TestMeasurementErrorReference(t *testing.T) {
	data := plain(withErrors(t, meuse(t)))
	global := solver(t, data, spherical(t), krige.Ordinary{}).Predict
	tab := reference(t, "meuse/ok_measerr_targets25.csv")
	compare(t, tab, "okme_global", global, nil)
	compare(t, tab, "okme_n16", local(t, data, spherical(t), krige.Ordinary{}, krige.Neighbourhood{Nearest: 16}).Predict, nil)
	compare(t, reference(t, "meuse/measerr_awkward_targets.csv"), "okme_global", global, nil)
}

// The same nugget as micro-scale variance jumps at a datum; as reading error it is
// filtered out and the surface is smooth there.
func TestAwkwardTargetsReference(t *testing.T) {
	data := plain(meuse(t))
	tab := reference(t, "meuse/awkward_targets.csv")
	jump := solver(t, data, spherical(t), krige.Ordinary{}).Predict
	compare(t, tab, "ok_global", jump, nil)
	compare(t, tab, "ok_n16", local(t, data, spherical(t), krige.Ordinary{}, krige.Neighbourhood{Nearest: 16}).Predict, nil)
	read := edit(data, func(_ int, d *krige.Datum) { d.ErrVar = 0.0507 })
	smooth := solver(t, read, structure(t, variogram.FamilySpherical, 0, 0.591, 897), krige.Ordinary{}).Predict
	compare(t, tab, "ok_Err_global", smooth, nil)
}

func TestWeightsReference(t *testing.T) {
	tab := reference(t, "meuse/ok_n16_weights_cell1.csv")
	ids := reference(t, "meuse/meuse.csv")
	p := local(t, plain(meuse(t)), spherical(t), krige.Ordinary{}, krige.Neighbourhood{Nearest: 16})
	if _, err := p.Predict(krige.XY{X: 181180, Y: 333740}); err != nil {
		t.Fatal(err)
	}
	for k, i := range p.Neighbours() {
		if ids.Rows[i]["id"] != tab.Rows[k]["id"] || !near(p.Weights()[k], tab.Number(k, "weight"), refTol) {
			t.Errorf("neighbour %d: id %s weight %.12f, want %v", k, ids.Rows[i]["id"], p.Weights()[k], tab.Rows[k])
		}
	}
}

func TestGridReference(t *testing.T) {
	data := meuse(t)
	cells, want := reference(t, "meuse/meuse_grid.csv"), reference(t, "meuse/grid_all_cells.csv")
	sixteen := krige.Neighbourhood{Nearest: 16}
	for prefix, f := range map[string]predict{
		"ok_global": solver(t, plain(data), spherical(t), krige.Ordinary{}).Predict,
		"ok_n16":    local(t, plain(data), spherical(t), krige.Ordinary{}, sixteen).Predict,
		"uk_global": solver(t, data, sphericalDrift(t), universal(t, 1)).Predict,
		"uk_n16":    local(t, data, sphericalDrift(t), universal(t, 1), sixteen).Predict,
	} {
		ties := 0
		for i := range cells.Rows {
			if strings.HasSuffix(prefix, "n16") && want.Number(i, "gap16") < 1e-9 {
				ties++ // sixteenth and seventeenth equally far: either choice is right
				continue
			}
			var drift []float64
			if strings.HasPrefix(prefix, "uk") {
				drift = []float64{math.Sqrt(cells.Number(i, "dist"))}
			}
			got, err := f(cells.at(i), drift...)
			if err != nil || !near(got.Mean, want.Number(i, prefix+"_pred"), refTol) || !near(got.Variance, want.Number(i, prefix+"_var"), refTol) {
				t.Errorf("%s cell %d: %+v, %v, want %v", prefix, i, got, err, want.Rows[i])
			}
		}
		t.Logf("%s: %d cells, %d left out for ties", prefix, len(cells.Rows), ties)
	}
}

func TestUniversalReference(t *testing.T) {
	data := meuse(t)
	tab := reference(t, "meuse/uk_targets25.csv")
	drift := func(i int) []float64 { return []float64{tab.Number(i, "sqrtdist")} }
	for prefix, m := range map[string]variogram.Model{"uk": sphericalDrift(t), "uk_samevgm": spherical(t)} {
		compare(t, tab, prefix+"_global", solver(t, data, m, universal(t, 1)).Predict, drift)
		compare(t, tab, prefix+"_n16", local(t, data, m, universal(t, 1), krige.Neighbourhood{Nearest: 16}).Predict, drift)
	}
	linear := func(p krige.XY) []float64 { return []float64{p.X, p.Y} }
	flat := edit(data, func(_ int, d *krige.Datum) { d.Drift = linear(d.XY) })
	compare(t, tab, "uk_xy_global", solver(t, flat, spherical(t), universal(t, 2)).Predict, func(i int) []float64 { return linear(tab.at(i)) })
}

// Raw projected coordinates to the second power: lost digits unless the solver
// centres and scales them itself.
func TestQuadraticDriftReference(t *testing.T) {
	square := func(p krige.XY) []float64 {
		x, y := p.X-180000, p.Y-331000
		return []float64{x, y, x * x, y * y, x * y}
	}
	data := edit(meuse(t), func(_ int, d *krige.Datum) { d.Drift = square(d.XY) })
	s := solver(t, data, spherical(t), universal(t, 5))
	cells, want := reference(t, "meuse/targets25.csv"), reference(t, "meuse/uk_xy2_centred.csv")
	for i := range cells.Rows {
		got, err := s.Predict(cells.at(i), square(cells.at(i))...)
		if err != nil || !near(got.Mean, want.Number(i, "pred"), refTol) || !near(got.Variance, want.Number(i, "var"), refTol) {
			t.Errorf("row %d: %+v, %v, want %v", i, got, err, want.Rows[i])
		}
	}
}

// Anisotropy by reduced positions, neighbours chosen by the reduced distance: reduced
// by the caller for a solver, by itself for local prediction.
func TestAnisotropyReference(t *testing.T) {
	a, err := variogram.NewAnisotropy(30, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	data := plain(meuse(t))
	reduced := edit(data, func(_ int, d *krige.Datum) { d.XY = a.Reduce(d.XY) })
	cells, want, global := reference(t, "meuse/targets25.csv"), reference(t, "aniso/ok_anis2d_n16_by_anisotropic_distance.csv"), reference(t, "aniso/ok_anis2d_targets25.csv")
	for prefix, m := range map[string]variogram.Model{
		"sph": structure(t, variogram.FamilySpherical, 0.0507, 0.591, 1200),
		"exp": structure(t, variogram.FamilyExponential, 0.0507, 0.591, 400),
	} {
		p := local(t, data, m, krige.Ordinary{}, krige.Neighbourhood{Nearest: 16, Anisotropy: a})
		s := solver(t, reduced, m, krige.Ordinary{})
		for i := range cells.Rows {
			got, err := p.Predict(cells.at(i))
			if err != nil || !near(got.Mean, want.Number(i, prefix+"_pred"), refTol) || !near(got.Variance, want.Number(i, prefix+"_var"), refTol) {
				t.Errorf("%s nearest, row %d: %+v, %v, want %v", prefix, i, got, err, want.Rows[i])
			}
			var nb []string
			for _, id := range p.Neighbours() {
				nb = append(nb, strconv.Itoa(id+1))
			}
			if strings.Join(nb, " ") != want.Rows[i]["nb16"] {
				t.Errorf("row %d: neighbours %v, want %s", i, nb, want.Rows[i]["nb16"])
			}
			if prefix == "exp" {
				continue
			}
			got, err = s.Predict(a.Reduce(cells.at(i)))
			if err != nil || !near(got.Mean, global.Number(i, "ok_global_pred"), refTol) || !near(got.Variance, global.Number(i, "ok_global_var"), refTol) {
				t.Errorf("global, row %d: %+v, %v, want %v", i, got, err, global.Rows[i])
			}
		}
	}
}
