package level_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"waterstrike/advisor/level"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// Poor records are answered, or refused by a word, and never by a number that is none.
func TestDegenerateRecords(t *testing.T) {
	each := func(n int, change func(i int, o *level.Observation)) []level.Observation {
		obs := plain(n, 91)
		for i := range obs {
			change(i, &obs[i])
		}
		return obs
	}
	refused := []error{variogram.ErrTooFewData, variogram.ErrNoVariation}
	for name, c := range map[string]struct {
		obs  []level.Observation
		want []error // nil: answered
	}{
		"no bores":          {nil, refused},
		"one bore":          {plain(1, 91), refused},
		"all at one spot":   {each(40, func(_ int, o *level.Observation) { o.At = variogram.XY{X: 5, Y: 5} }), refused},
		"all dry":           {each(40, func(_ int, o *level.Observation) { o.State = level.DryTo }), refused},
		"wells alone":       {each(40, func(_ int, o *level.Observation) { o.State, o.Dry = level.Well, geo.Months(5) }), refused},
		"all flowing":       {each(40, func(_ int, o *level.Observation) { o.State = level.Flowing }), nil},
		"on a line":         {each(60, func(i int, o *level.Observation) { o.At.Y = 2 * o.At.X }), nil},
		"all equal":         {each(60, func(_ int, o *level.Observation) { o.DepthM = 6 }), nil},
		"all at the ground": {each(60, func(_ int, o *level.Observation) { o.DepthM = 0 }), nil},
		"a 300 m outlier":   {each(60, func(i int, o *level.Observation) { o.DepthM += 290 * float64(1-min(i, 1)) }), nil},
		"two at each spot":  {each(60, func(i int, o *level.Observation) { o.At = variogram.XY{X: float64(i/2) * 300} }), nil},
		"a day in the 1800s": {each(60, func(i int, o *level.Observation) {
			o.On = geo.Date{Year: 1801 + 217*min(i, 1), Month: 1 + i%12, Day: 1}
		}), nil},
	} {
		t.Run(name, func(t *testing.T) {
			m, _, err := level.Fit(t.Context(), c.obs, season())
			if c.want != nil {
				if err == nil || !errors.Is(err, c.want[0]) && !errors.Is(err, c.want[1]) {
					t.Errorf("error %v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range []variogram.XY{c.obs[0].At, {X: 7000, Y: 7000}, {X: 4e6, Y: -4e6}} { // on a bore, among them, far off
				s, err := m.Predict(nearest(c.obs, at, 32), at, level.Land{})
				if err != nil {
					t.Fatal(err)
				}
				low := s.Low(0.5)
				finite(t, s)
				if name == "a 300 m outlier" && at == (variogram.XY{X: 7000, Y: 7000}) && (low < 3 || low > 20) {
					t.Errorf("one reading of 300 m among lows of 4 to 12 m makes the low %.1f m", low)
				}
			}
		})
	}
}

// finite fails where a statement holds a number that is none.
func finite(t *testing.T, s level.Statement) {
	t.Helper()
	low := s.Low(0.5)
	for _, v := range []float64{s.Low(0.01), low, s.Low(0.99), s.DesignLow(low), s.WetHigh(low), s.Reading(geo.Date{Month: 3}, true).Quantile(0.5), s.Within(low)} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%+v: %v", s.Distribution, v)
		}
	}
}

// Land that is flat, known at some bores only, or wilder at the place asked about than at
// any bore is answered; a place outside the survey is told as one whose land is not known,
// with a range at least as wide.
func TestDegenerateLand(t *testing.T) {
	obs, _ := rising(200, 5, half)
	level1 := terrain.Setting{GroundM: geo.Some(3.0), Around: geo.Some(terrain.Around{})}
	flat, some := slices.Clone(obs), slices.Clone(obs)
	for i := range obs {
		flat[i].Land = level.LandOf(level1)
		if i%3 == 0 {
			some[i].Land = level.Land{}
		}
	}
	wild := level.LandOf(terrain.Setting{GroundM: geo.Some(8000.0), AboveDrainageM: geo.Some(3000.0), AboveRiverM: geo.Some(4000.0), Around: geo.Some(terrain.Around{ReliefM: 5000})})
	grid, err := terrain.NewGrid(terrain.Frame{West: 10, North: 10, CellX: 0.01, CellY: 0.01, Rows: 3, Cols: 3})
	if err != nil {
		t.Fatal(err)
	}
	survey, err := terrain.Derive(t.Context(), grid, terrain.Defaults(), nil)
	if err != nil {
		t.Fatal(err)
	}
	outside := level.LandOf(survey.At(coord.LonLat{Lon: 50, Lat: -30}))
	if outside.Known() {
		t.Fatalf("land outside the survey: %+v", outside)
	}
	for name, records := range map[string][]level.Observation{"flat": flat, "known at some bores": some, "known": obs} {
		m := fit(t, records)
		at := variogram.XY{X: 9000, Y: 9000}
		ask := func(land level.Land) level.Statement {
			s, err := m.Predict(nearest(records, at, 32), at, land)
			if err != nil {
				t.Fatal(name, err)
			}
			finite(t, s)
			return s
		}
		inside, away := ask(records[1].Land), ask(outside)
		ask(wild)
		if away.FieldVar+away.MicroVar < 0.999*(inside.FieldVar+inside.MicroVar) {
			t.Errorf("%s: variance %.4f outside the survey, %.4f in it", name, away.FieldVar+away.MicroVar, inside.FieldVar+inside.MicroVar)
		}
	}
}
