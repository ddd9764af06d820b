package hydraulics

import (
	"math"

	"waterstrike/geo"
)

// Assumed stands in for what a record does not say.
type Assumed struct {
	Storage float64 // of the ground
	HoleMM  float64 // diameter of the hole
	BailMin float64 // minutes of bailing

	// Efficiency is the share of the drawdown in a pumped well that the ground causes, where
	// only the end of pumping was written down: as [HandPump] has it, so that what a well is
	// to give is judged as those were that gave it.
	Efficiency float64
	CoverM     float64 // of water left over the bottom when a well gives all it can
	Hours      float64 // that a yield was drawn for
	LeastLPS   float64 // what a well that is called producing gives at least
	ScreenM    float64 // length of a screen whose place is not written down
}

// DefaultAssumed returns what [HandPump] and the bailer test assume.
//
// Source: storage and efficiency as [HandPump]; a hole of 150 mm, a screen of 3 m over half a
// metre of plugged pipe, the pump 1 m above the bottom and an hour of pumping, common
// practice; 10 minutes of bailing, MacDonald, Barker and Davies (2008); 7.6 L/min, the least
// that Lifewater asks of a well, from memory.
func DefaultAssumed() Assumed {
	return Assumed{
		Storage: 0.05, HoleMM: 150, BailMin: 10, Efficiency: 0.75, CoverM: 1, Hours: 1, LeastLPS: 7.6 / 60, ScreenM: 3,
	}
}

// Evidence returns what the tests of a bore say of the ground behind its screens. A test
// that says nothing, or a bore without screen or layers, adds nothing.
//
//   - Units: as [Tested].
//   - Domain: valid records; tests at a constant rate with readings or their end written
//     down, bailer tests with a time of recovery. Step tests and recoveries alone are left
//     out.
//   - Errors: none: a record that is wrong in itself is for the checks of records to tell.
//   - Source: [FitCooperJacob] where enough was read for it, else [SpecificCapacity];
//     [FitBailer].
//   - Checked by: TestEvidence, TestEvidenceOfReadings, TestEvidenceOfNothing.
func Evidence(b geo.Bore, assumed Assumed) []Tested {
	var all []Tested
	for _, t := range b.Tests {
		open, screenM := opened(b, t.RestM.Or(0))
		if len(open) == 0 {
			continue
		}
		if e, ok := testOf(b, t, assumed, screenM); ok {
			all = append(all, Tested{T: e, Open: open})
		}
	}
	return all
}

// opened are the layers behind the screens below a depth, and how much screen that is.
func opened(b geo.Bore, belowM float64) (open []Interval, screenM float64) {
	for _, p := range b.Pipes {
		if p.Kind != geo.Screen {
			continue
		}
		screenM += max(0, p.BaseM-max(p.TopM, belowM))
		for _, l := range b.Layers {
			if thick := min(p.BaseM, l.BaseM) - max(p.TopM, l.TopM, belowM); thick > 0 {
				open = append(open, Interval{Material{l.Class, l.Grade, l.Clayey}, thick})
			}
		}
	}
	return open, screenM
}

func testOf(b geo.Bore, t geo.PumpTest, assumed Assumed, screenM float64) (Estimate, bool) {
	var e Estimate
	err := ErrTooFew
	switch t.Kind {
	case geo.ConstantRate:
		if e, err = readLine(b, t, assumed); err != nil {
			e, err = constantRate(t, assumed, screenM)
		}
	case geo.BailerTest:
		e, err = bailed(b, t, assumed)
	}
	return e, err == nil
}

// lineDecades is the standard error of T by a line through the readings of a pumped well,
// besides its own: in confined ground such a line is hardly biased, in unconfined about
// double. Source: Halford et al. (2006), abstract; in decades, recalculated.
const lineDecades = 0.2

// readLine takes the readings of a test, where they are enough for a straight line.
func readLine(b geo.Bore, t geo.PumpTest, assumed Assumed) (Estimate, error) {
	lps, known1 := t.RateLPS.Get()
	rest, known2 := t.RestM.Get()
	if !known1 || !known2 {
		return Estimate{}, ErrTooFew
	}
	var readings []Reading
	for _, r := range t.Readings {
		if rate, known := r.RateLPS.Get(); known && rate != lps {
			return Estimate{}, ErrTooFew // the rate changed: no line
		}
		if r.Minutes > 0 { // the first reading is often of the rest level
			readings = append(readings, Reading{r.Minutes / minutesPerDay, r.DepthM - rest})
		}
	}
	hole := assumed.HoleMM / 2000
	f, err := FitCooperJacob(Pumping{lps * secondsPerDay / 1000, hole, min(pipeRadiusM(b, hole), hole)}, readings)
	if err != nil {
		return Estimate{}, err
	}
	return judged(f.T.Value, math.Hypot(f.T.Decades, lineDecades))
}

// constantRate takes the screened ground for a layer of its own: what lies above and below
// the screen then neither helps nor is counted in its thickness.
func constantRate(t geo.PumpTest, assumed Assumed, screenM float64) (Estimate, error) {
	lps, known1 := t.RateLPS.Get()
	hours, known2 := t.Hours.Get()
	rest, known3 := t.RestM.Get()
	pumping, known4 := t.PumpingM.Get()
	if !known1 || !known2 || !known3 || !known4 {
		return Estimate{}, ErrTooFew
	}
	return SpecificCapacity(Single{
		DischargeM3D: lps * secondsPerDay / 1000, DrawdownM: (pumping - rest) * assumed.Efficiency, Days: hours / 24,
		RadiusM: assumed.HoleMM / 2000, Storage: assumed.Storage, ScreenM: screenM, LayerM: screenM,
	})
}

func bailed(b geo.Bore, t geo.PumpTest, assumed Assumed) (Estimate, error) {
	volume, known := t.BailL.Get()
	if !known {
		return Estimate{}, ErrTooFew
	}
	minutes := assumed.BailMin
	if hours, known := t.Hours.Get(); known {
		minutes = hours * 60
	}
	var most geo.Opt[float64]
	rest, known1 := t.RestM.Get()
	pumping, known2 := t.PumpingM.Get()
	if known1 && known2 {
		most = geo.Some(pumping - rest)
	}
	hole := assumed.HoleMM / 2000
	return FitBailer(
		Bailed{Well: Well{RadiusM: hole, OpenRadiusM: min(pipeRadiusM(b, hole), hole)}, VolumeL: volume, Minutes: minutes},
		Timed{MostM: most, HalfMin: t.HalfMin, ThreeQMin: t.ThreeQMin},
	)
}

// pipeRadiusM is the radius of the widest casing, that of the hole where none is written.
// The wall of the pipe is not taken off: a few per cent.
func pipeRadiusM(b geo.Bore, holeM float64) float64 {
	widest := 0.0
	for _, p := range b.Pipes {
		if mm, known := p.DiameterMM.Get(); known && p.Kind == geo.Casing {
			widest = max(widest, mm/2000)
		}
	}
	if widest == 0 {
		return holeM
	}
	return widest
}
