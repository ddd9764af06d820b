package variogram_test

import (
	"errors"
	"math"
	"testing"

	"waterstrike/advisor/variogram"
)

func binsOf(t *testing.T, file string) []variogram.Bin {
	t.Helper()
	tab := reference(t, "meuse/"+file)
	bins := make([]variogram.Bin, len(tab.Rows))
	for i := range bins {
		bins[i] = variogram.Bin{Pairs: int(tab.Number(i, "np")), DistanceM: tab.Number(i, "dist"), Gamma: tab.Number(i, "gamma")}
	}
	return bins
}

// gstat's Gaussian rows are left out: that family is not offered here.
func TestFitBinsReference(t *testing.T) {
	files := map[string]string{
		"logzinc classical":   "variogram_classical.csv",
		"logzinc cressie":     "variogram_cressie.csv",
		"residual sqrt(dist)": "variogram_residual_sqrtdist.csv",
	}
	families := map[string]variogram.Family{"Sph": variogram.FamilySpherical, "Exp": variogram.FamilyExponential}
	weights := map[string]variogram.Weighting{
		"7": variogram.ByPairsOverDistance, "1": variogram.ByPairs,
		"2": variogram.ByPairsOverGamma, "6": variogram.Unweighted,
	}
	want := reference(t, "meuse/fits_gstat.csv")
	for i, row := range want.Rows {
		family, ok := families[row["model"]]
		if !ok {
			continue
		}
		t.Run(row["data"]+" "+row["model"]+" "+row["fit_method"], func(t *testing.T) {
			_, got, err := variogram.FitBins(binsOf(t, files[row["data"]]), family, weights[row["fit_method"]], variogram.RangeBounds{})
			if err != nil || !got.Converged {
				t.Fatal(got, err)
			}
			// gstat stops when its sum of squares changes by less than 1e-6 of itself, so
			// its parameters, at a flat bottom, are good to about the square root of that.
			tol := 2e-3
			if row["model"] == "Exp" && row["fit_method"] == "2" {
				// gstat did not converge here: weights move with the fit and the nugget sits at
				// its bound. Its sum of squares (34.0) is not that of its own parameters (42.69,
				// computed apart; ours 42.34), and starting without a nugget it reports 48.8.
				tol = 0.03
			}
			// Ours is the better minimum unless the weights move with the fit.
			if row["fit_method"] != "2" && got.SquareSum > want.Number(i, "SSErr")*(1+1e-9) {
				t.Errorf("sum of squares %g above the reference %g", got.SquareSum, want.Number(i, "SSErr"))
			}
			if relative(got.RangeParameterM, want.Number(i, "range")) > tol ||
				relative(got.PartialSill, want.Number(i, "psill")) > tol ||
				math.Abs(got.Nugget-want.Number(i, "nugget")) > tol*want.Number(i, "psill") {
				t.Errorf("got %+v, want %v", got, row)
			}
		})
	}
}

func TestFitBinsRecoversModel(t *testing.T) {
	for _, family := range variogram.Families() {
		part, err := family.New(3, 250)
		if err != nil {
			t.Fatal(err)
		}
		truth, err := variogram.NewStructure(0.7, part)
		if err != nil {
			t.Fatal(err)
		}
		var bins []variogram.Bin
		for h := 25.0; h < 1500; h += 50 {
			bins = append(bins, variogram.Bin{Pairs: 100, DistanceM: h, Gamma: truth.Gamma(h)})
		}
		for _, w := range []variogram.Weighting{variogram.ByPairsOverDistance, variogram.ByPairs, variogram.ByPairsOverGamma, variogram.Unweighted} {
			_, got, err := variogram.FitBins(bins, family, w, variogram.RangeBounds{})
			const tol = 1e-5 // the range is refined to about 1e-8, where the squares reach rounding
			if err != nil || relative(got.RangeParameterM, 250) > tol || relative(got.PartialSill, 3) > tol || relative(got.Nugget, 0.7) > tol {
				t.Errorf("%s weighting %d: %+v, %v", family, w, got, err)
			}
		}
	}
}

func TestFitBinsSaysNotIdentified(t *testing.T) {
	var line, flat []variogram.Bin
	for h := 50.0; h < 1000; h += 50 {
		line = append(line, variogram.Bin{Pairs: 10, DistanceM: h, Gamma: h * h})
		flat = append(flat, variogram.Bin{Pairs: 10, DistanceM: h, Gamma: 2})
	}
	_, rep, err := variogram.FitBins(line, variogram.FamilyExponential, variogram.ByPairs, variogram.RangeBounds{})
	if err != nil || !rep.AtMaxRange {
		t.Errorf("a variogram that never levels off: %+v, %v", rep, err)
	}
	s, _, err := variogram.FitBins(flat, variogram.FamilyExponential, variogram.ByPairs, variogram.RangeBounds{})
	if err != nil || math.Abs(s.Sill()-2) > 1e-9 {
		t.Errorf("a flat variogram: sill %g, %v", s.Sill(), err)
	}
}

func TestFitBinsErrors(t *testing.T) {
	bins := []variogram.Bin{{Pairs: 1, DistanceM: 1, Gamma: 0}, {Pairs: 1, DistanceM: 2, Gamma: 0}, {Pairs: 1, DistanceM: 3, Gamma: 0}}
	fit := func(b []variogram.Bin, f variogram.Family, r variogram.RangeBounds) error {
		_, _, err := variogram.FitBins(b, f, variogram.ByPairs, r)
		return err
	}
	var bad *variogram.ParameterError
	if err := fit(bins, variogram.FamilyExponential, variogram.RangeBounds{}); !errors.Is(err, variogram.ErrNoVariation) {
		t.Error("no variation:", err)
	}
	if err := fit(bins[:2], variogram.FamilyExponential, variogram.RangeBounds{}); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("two bins:", err)
	}
	bins[1].Gamma = 1
	if err := fit(bins, "unknown", variogram.RangeBounds{}); !errors.As(err, &bad) {
		t.Error("unknown family:", err)
	}
	if err := fit(bins, variogram.FamilyExponential, variogram.RangeBounds{MinM: 5, MaxM: 4}); !errors.As(err, &bad) {
		t.Error("crossed bounds:", err)
	}
}
