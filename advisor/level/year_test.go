package level_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/advisor/level"
	"waterstrike/geo"
)

// inYears are readings of the last month of the dry season in many years, of which some
// were dry ones: how much deeper the water stood is added to each.
func inYears(n int, seed uint64, deeper map[int]float64) []level.Observation {
	rng := rand.New(rand.NewPCG(seed, 8))
	obs := plain(n, seed)
	for i := range obs {
		year := 2004 + rng.IntN(12)
		obs[i].On = geo.Date{Year: year, Month: int(time.April), Day: 1 + rng.IntN(28)}
		obs[i].DepthM += deeper[year]
	}
	return obs
}

// walk is an autoregression of years with a correlation of 0.6 and a mean of 0.
func walk(seed uint64, sd float64) map[int]float64 {
	rng := rand.New(rand.NewPCG(seed, 9))
	out, e, mean := map[int]float64{}, sd*rng.NormFloat64(), 0.0
	for year := 2004; year < 2016; year++ {
		out[year] = e
		mean += e / 12
		e = 0.6*e + 0.8*sd*rng.NormFloat64()
	}
	for year := range out {
		out[year] -= mean
	}
	return out
}

// Readings of many years tell which were dry, how far years go apart, and with that the low
// of one year in ten; and the low of a normal year is what it would be without them.
func TestYearsAreLearned(t *testing.T) {
	for seed := range uint64(3) {
		deeper := walk(seed, 0.8)
		obs := inYears(200, 60+seed, deeper)
		m, report, err := level.Fit(t.Context(), obs, season())
		if err != nil {
			t.Fatal(err)
		}
		s := report.Season
		if len(s.Years) != 12 {
			t.Fatalf("%d years", len(s.Years))
		}
		off, spread := 0.0, 0.0
		for _, y := range s.Years { // a water year is named after the calendar year in which it begins
			off += math.Pow(y.DeeperM-deeper[y.Year+1], 2) / 12
			spread += math.Pow(deeper[y.Year+1], 2) / 12
			if y.SDM <= 0 || y.SDM > 0.6 {
				t.Errorf("%d is known to %v m", y.Year, y.SDM)
			}
		}
		if math.Sqrt(off) > 0.25 { // 17 readings of 10 % at 8 m each: 0.2 m
			t.Errorf("years are off by %.2f m, they spread by %.2f m", math.Sqrt(off), math.Sqrt(spread))
		}
		if ratio := s.YearSDM / math.Sqrt(spread); ratio < 0.6 || ratio > 1.6 { // of 12 years
			t.Errorf("spread of years %.2f m, was %.2f m", s.YearSDM, math.Sqrt(spread))
		}
		bias := -2.5 * (1 - math.Cos(math.Pi/6)) / 2 // in April the water stands so much above its low in May
		for _, o := range obs[:40] {
			d := predict(t, m, obs, o.At)
			bias += (d.Low(0.5) - truth(o.At)) / 40
			if design := d.DesignLow(8) - 8; math.Abs(design-1.2816*s.YearSDM) > 0.05*s.YearSDM {
				t.Fatalf("one year in ten goes %.2f m below 8 m, years spread by %.2f m", design, s.YearSDM)
			}
		}
		if math.Abs(bias) > 0.25 {
			t.Errorf("lows of a normal year are off by %+.2f m", bias)
		}
	}
}

// Years that are all alike, too few years and readings without a year tell none, and the
// spread stays what it was said to be.
func TestYearsNotIdentified(t *testing.T) {
	few := inYears(120, 71, walk(1, 1))
	for i := range few {
		few[i].On.Year = 2004 + i%3
	}
	undated := inYears(120, 72, walk(2, 1))
	for i := range undated {
		undated[i].On.Year = 0
	}
	for name, obs := range map[string][]level.Observation{"alike": inYears(120, 70, nil), "three years": few, "no year": undated} {
		if s := reported(t, obs).Season; len(s.Years) != 0 || s.YearSDM != season().YearSDM {
			t.Errorf("%s: years %+v, spread %v m", name, s.Years, s.YearSDM)
		}
	}
}

// The day counts, not only the month: over a month in which the water falls by a metre,
// readings of its first and last days state one low.
func TestDaysCount(t *testing.T) {
	s := season()
	m := fit(t, plain(60, 3))
	d := predict(t, m, plain(60, 3), plain(60, 3)[0].At)
	at := func(month, day int) float64 { return d.Reading(geo.Date{Month: month, Day: day}, false).Quantile(0.5) }
	for month := 1; month <= 12; month++ {
		first, middle, last := at(month, 1), at(month, 0), at(month, 31)
		next := at(month%12+1, 1)
		if math.Abs(last-next) > 0.15*s.RangeM {
			t.Errorf("month %d ends at %.2f m, the next begins at %.2f m", month, last, next)
		}
		if lo, hi := min(first, last), max(first, last); middle < lo-0.1*s.RangeM || middle > hi+0.1*s.RangeM {
			t.Errorf("month %d: %.2f m to %.2f m, but %.2f m in its middle", month, first, last, middle)
		}
	}
}

// Lows that scatter by their depth are compared on a scale that bends, lows that scatter by
// the metre on one that is nearly straight.
func TestScaleFollowsTheScatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 1))
	byDepth, byMetre := plain(250, 41), plain(250, 41)
	for i := range byDepth {
		z := rng.NormFloat64()
		byDepth[i].DepthM = 6 * math.Exp(0.8*z)
		byMetre[i].DepthM = 30 + 6*z
	}
	bent, straight := reported(t, byDepth), reported(t, byMetre)
	if bent.Root || bent.ShiftM > 2 {
		t.Errorf("by depth: root %v, shift %v m", bent.Root, bent.ShiftM)
	}
	if straight.ShiftM < 4 {
		t.Errorf("by the metre: root %v, shift %v m", straight.Root, straight.ShiftM)
	}
}
