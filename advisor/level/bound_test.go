package level_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/advisor/level"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

// waves is a low that rises and falls over some 8 km.
func waves(at variogram.XY) float64 {
	return 6 * math.Exp(0.5*math.Sin(at.X/2500)*math.Cos(at.Y/2500))
}

// Wells with their dry months tell the low where nobody measured it: one that never falls
// dry from below, one that is dry in the last month of the dry season from above. A word
// that is wrong moves it within reason.
func TestWellsBoundBothSides(t *testing.T) {
	at := variogram.XY{X: 11781, Y: 7854} // on a top of the wave, 9.9 m
	rng := rand.New(rand.NewPCG(81, 1))
	var read []level.Observation
	well := func(above float64, dry geo.MonthSet) (out []level.Observation) {
		for i := range 12 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 6)
			p := variogram.XY{X: at.X + 300*cos, Y: at.Y + 300*sin}
			out = append(out, level.Observation{At: p, State: level.Well, DepthM: waves(p) + above, Dry: dry, SumpM: 0.3})
		}
		return out
	}
	for len(read) < 200 {
		p := variogram.XY{X: rng.Float64() * 20000, Y: rng.Float64() * 20000}
		if p.DistanceTo(at) > 3000 {
			read = append(read, level.Observation{At: p, DepthM: waves(p) * math.Exp(0.1*rng.NormFloat64()), On: in(time.May)})
		}
	}
	m := fit(t, read)
	said := func(wells ...level.Observation) level.Statement {
		s, err := m.Predict(append(nearest(read, at, 32), wells...), at, level.Land{})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	none := said()
	never, dry := well(0.8, 0), well(-0.8, geo.Months(time.May))
	both := said(append(never, dry...)...)
	t.Logf("low %.1f m: said %.1f m (%.1f to %.1f) without wells, %.1f m (%.1f to %.1f) with them", waves(at),
		none.Low(0.5), none.Low(0.1), none.Low(0.9), both.Low(0.5), both.Low(0.1), both.Low(0.9))
	if math.Abs(both.Low(0.5)-waves(at)) > 0.7*math.Abs(none.Low(0.5)-waves(at)) || both.Low(0.9)-both.Low(0.1) > none.Low(0.9)-none.Low(0.1) {
		t.Error("wells do not bring the low nearer")
	}
	if deeper, shallower := said(dry...), said(well(-2.6, 0)...); !(deeper.Low(0.5) > none.Low(0.5) && shallower.Low(0.5) < none.Low(0.5)) {
		t.Errorf("dry wells say %.1f m, wells that never fall dry 2.6 m above it %.1f m; none %.1f m", deeper.Low(0.5), shallower.Low(0.5), none.Low(0.5))
	}
	lie := level.Observation{At: variogram.XY{X: at.X + 50, Y: at.Y}, State: level.Well, DepthM: 1, SumpM: 0.3} // never dry at 1 m
	if moved := said(lie).Low(0.5); math.Abs(moved-none.Low(0.5)) > 0.15*none.Low(0.5) {
		t.Errorf("one wrong word moves the low from %.2f m to %.2f m", none.Low(0.5), moved)
	}
}
