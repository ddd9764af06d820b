package sheet_test

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"waterstrike/advisor"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// sound are invented fits with nothing off: a learnt season, 40 readings, slopes.
func sound() (advisor.Fits, *level.Report) {
	r := level.Report{Readings: 40, DryHoles: 6, ShiftM: 2, PerShare: 1, RangeM: 3000, Season: level.DefaultSeason(1)}
	r.Season.Identified = true
	r.Season.Years = []level.Year{{Year: 2014, DeeperM: -0.4, SDM: 0.2, Readings: 9}, {Year: 2015, DeeperM: 0.6, SDM: 0.1, Readings: 31}}
	r.Variogram = variogram.Report{Micro: 0.01, PartialSill: 0.06, MaxRangeLoss: 9, Condition: 40, LogLik: -12.3}
	r.Trend = []level.Slope{{Term: "relief", B: 0.12, SD: 0.03}, {Term: "elevation", B: -0.02, SD: 0.05}, {Term: "above-river", B: -0.2, SD: 0.04}}
	for i := range 40 {
		d := 3 + float64(i)/5
		r.Shown.LeftOut.Cases = append(r.Shown.LeftOut.Cases, level.LeftOutCase{ReadM: d, P10: d - 1, P50: d + 0.1, P90: d + 1})
	}
	r.Shown.LeftOut.Held, r.Shown.LeftOut.OffM, r.Shown.LeftOut.DeeperM = 0.8, 0.1, -0.1
	for i := range 10 {
		h := 300 * float64(i+1)
		g := 0.08 * (1 - math.Exp(-h/1000))
		r.Shown.Unlike = append(r.Shown.Unlike, level.Unlike{DistanceM: h, Pairs: 60, Classical: 3 * g, Robust: 2.8 * g, Beside: g, BesideRobust: 0.9 * g})
		r.Shown.Model = append(r.Shown.Model, level.ModelAt{DistanceM: h, Gamma: 1.1 * g})
	}
	for i := range 9 {
		rise := r.Season.Rise[i] * r.Season.RangeM
		r.Shown.Months[i] = level.Month{Readings: 4, Used: 4, RiseM: geo.Some(level.Quartile{Lo: rise - 0.4, Mid: rise, Hi: rise + 0.5})}
	}
	f := advisor.Fits{Schema: advisor.FitsSchema, Snapshot: "7", Now: "7", Bores: 90, Strata: geo.Some(strata.Report{Logs: 50, RangeM: 5000, NearM: 1200, LogScore: 0.8, Profile: 1.1})}
	f.Kinds = advisor.Kinds{Stated: 46, Rest: 40, Dry: 6, Described: 50, Logs: 50}
	return f, &r
}

func fitsText(t *testing.T, f advisor.Fits) string {
	t.Helper()
	return strings.Join(strings.Fields(sheet.NewFits(catalogue(t), say.EN, f).Text()), " ")
}

// Each thing that may be off is told when it is, and not when it is not.
func TestFitsSayWhatToDo(t *testing.T) {
	f, r := sound()
	f.Level = geo.Some(*r)
	if text := fitsText(t, f); !strings.Contains(text, "Nothing is off") {
		t.Errorf("sound fits: %.900s", text)
	}
	for want, spoil := range map[string]func(*advisor.Fits, *level.Report){
		"records have changed since":  func(f *advisor.Fits, _ *level.Report) { f.Now = "8" },
		"Few levels":                  func(_ *advisor.Fits, r *level.Report) { r.Readings = 12 },
		"No likeness between any two": func(_ *advisor.Fits, r *level.Report) { r.Variogram.AtPureMicro, r.RangeM = true, 0 },
		"Range at its least":          func(_ *advisor.Fits, r *level.Report) { r.Variogram.AtMinRange = true },
		"Range not told by these":     func(_ *advisor.Fits, r *level.Report) { r.Variogram.MaxRangeLoss = 0.5 },
		"Spread on the spot at zero":  func(_ *advisor.Fits, r *level.Report) { r.Variogram.AtZeroMicro, r.Variogram.Micro = true, 0 },
		"copied from one to the next": func(_ *advisor.Fits, r *level.Report) { r.Variogram.AtTotal = true },
		"equations are near their":    func(_ *advisor.Fits, r *level.Report) { r.Variogram.Condition = 1e10 },
		"Season not told":             func(_ *advisor.Fits, r *level.Report) { r.Season.Identified = false },
		"Most levels have no month":   func(f *advisor.Fits, _ *level.Report) { f.Kinds.Undated = 30 },
		"Of most levels it is not":    func(f *advisor.Fits, _ *level.Report) { f.Kinds.Vague = 30 },
		"The land does not help":      func(_ *advisor.Fits, r *level.Report) { r.Trend = nil },
		"No dry hole is recorded":     func(_ *advisor.Fits, r *level.Report) { r.DryHoles = 0 },
		"Ranges too narrow: only 55%": func(_ *advisor.Fits, r *level.Report) { r.Shown.LeftOut.Held = 0.55 },
		"Ranges wider than they":      func(_ *advisor.Fits, r *level.Report) { r.Shown.LeftOut.Held = 0.97 },
		"no better than one column": func(f *advisor.Fits, _ *level.Report) {
			f.Strata = geo.Some(strata.Report{Logs: 9, LogScore: 2, Profile: 1})
		},
		"Layers need 5 described logs":  func(f *advisor.Fits, _ *level.Report) { f.Strata = geo.Opt[strata.Report]{} },
		"26 of 900 bores that state":    func(f *advisor.Fits, _ *level.Report) { f.Kinds.Stated, f.Kinds.Rest = 900, 20 },
		"The season was set by the pro": func(_ *advisor.Fits, r *level.Report) { r.Season.Given = true },
	} {
		f, r := sound()
		spoil(&f, r)
		f.Level = geo.Some(*r)
		if text := fitsText(t, f); !strings.Contains(text, want) {
			t.Errorf("%q is not said: %.900s", want, text)
		}
	}
	f.Level = geo.Opt[level.Report]{}
	if text := fitsText(t, f); !strings.Contains(text, "needs levels at 10 places") || strings.Contains(text, "MONTH BY MONTH") {
		t.Errorf("without a fit of the level: %.900s", text)
	}
}

func TestFitsLeaveNothingUnsaid(t *testing.T) {
	c := catalogue(t)
	f, r := sound()
	f.Level = geo.Some(*r)
	for _, l := range say.Langs() {
		for _, line := range strings.Split(sheet.NewFits(c, l, f).Text(), "\n") {
			if utf8.RuneCountInString(line) > 80 || strings.ContainsAny(line, "⟨\u00a0\u202f") {
				t.Errorf("%v: %q", l, line)
			}
		}
		var b bytes.Buffer
		if err := sheet.FitsFile(&b, c, l, f); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), "<svg"); n != 5 || strings.ContainsAny(b.String(), "⟨") || strings.Contains(b.String(), "plot.") {
			t.Errorf("%v: %d drawings, or words are missing", l, n)
		}
	}
}
