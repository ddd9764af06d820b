package demoland

import (
	"math"
	"slices"

	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Rules says what makes a bore a lasting water point.
type Rules struct {
	Limits
	HoleMM       float64
	YieldLPS     float64 // wanted at the pump
	Hours        float64 // pumped in one go
	Storage      float64 // of the ground, dimensionless
	Efficiency   float64 // share of the drawdown that the ground itself causes
	ScreenM      float64 // longest screen
	LeastOpenM   float64 // least length of screen opposite ground that gives water
	PartingM     float64 // thickness of tight ground that keeps two waters apart: no pack joins them
	AboveScreenM float64 // seal, clay and pack that must fit over the screen
	SumpM        float64 // plugged pipe below it
	CoverM       float64 // water that must stay over the intake, at the screen's foot
	Season       float64 // when it is drilled: 0 at the dry low, 1 at the peak
}

// HandPump returns the usual rules for a method: 0.25 L/s for 8 hours, up to 6 m of
// screen below 3 m of seal, 0.5 m of clay and 0.6 m of pack, 1 m of water over the intake at the
// low of the worst year in ten, in one water: half a metre of tight ground parts two. Storage,
// efficiency and parting are common practice, no source;
// the rest from memory of the RWSN code of practice (2010) and common practice.
func HandPump(limits Limits, holeMM float64) Rules {
	return Rules{
		Limits: limits, HoleMM: holeMM, YieldLPS: 0.25, Hours: 8, Storage: 0.05, Efficiency: 0.75,
		ScreenM: 6, LeastOpenM: 1, PartingM: 0.5, AboveScreenM: 4.1, SumpM: 0.5, CoverM: 1,
	}
}

// Failure is what a bore fails by.
type Failure string

// The failures, in the order in which they are looked for.
const (
	None         Failure = ""
	TooDeep      Failure = "too-deep"     // the method's depth ends above what it needs
	BeyondReach  Failure = "beyond-reach" // its reach below water does
	Stopped      Failure = "stopped"      // ground stops the bit above what it needs
	NoRoom       Failure = "no-room"      // a layer yields, but too near the surface to seal
	NothingGives Failure = "nothing-gives"
	TooLittle    Failure = "too-little" // layers give water, but not enough
)

// Verdict is what a method would meet at one point.
type Verdict struct {
	Fails     Failure
	StoppedBy soil.Class // when Fails is [Stopped]
	BottomM   float64    // the deepest that the method gets
	ScreenM   [2]float64 // depths of the best screen when it succeeds
}

// Succeeds reports whether a bore by these rules at p becomes a lasting water point.
func (l *Land) Succeeds(p coord.LonLat, r Rules) bool { return l.Judge(p, r).Fails == None }

// Judge works out whether a bore by these rules at p becomes a lasting water point, and
// what it fails by otherwise.
//
//   - Units: metres below ground.
//   - Domain: Rules with every number positive except Season, in [0,1].
//   - Errors: none.
//   - Source: drawdown by Cooper & Jacob (1946).
//   - Checked by: TestVerdictLaws, TestWetSeasonBoresLastLess.
func (l *Land) Judge(p coord.LonLat, r Rules) Verdict {
	c := l.column(l.frame(p))
	rest := c.level(r.Season, 0)
	refusal, by := r.refusalM(c.Layers, 1)
	water := rest
	if c.Confined {
		water = c.strikeM(rest)
	}
	bottom := min(r.MaxDepthM, water+r.BelowWaterM, refusal, ColumnM)
	v := Verdict{BottomM: bottom}
	if top, base, ok := r.screen(c.Column, bottom); ok {
		v.ScreenM = [2]float64{top, base}
		return v
	}
	v.Fails = r.failure(c.Column, bottom, water)
	if v.Fails == Stopped {
		v.StoppedBy = by
	}
	return v
}

// failure names the limit without which the bore would have succeeded, or what the
// ground lacks.
func (r Rules) failure(c Column, bottom, water float64) Failure {
	if _, _, ok := r.screen(c, ColumnM); ok {
		switch bottom {
		case r.MaxDepthM:
			return TooDeep
		case water + r.BelowWaterM:
			return BeyondReach
		}
		return Stopped
	}
	open := r
	open.AboveScreenM = 0
	if _, _, ok := open.screen(c, ColumnM); ok {
		return NoRoom
	}
	open.YieldLPS = 0
	if _, _, ok := open.screen(c, ColumnM); ok {
		return TooLittle
	}
	return NothingGives
}

// searchM is the step at which places for the screen are tried.
const searchM = 0.25

// screen returns the best place for a screen in a hole of that depth: the window below
// the design low that leaves most water over the intake.
func (r Rules) screen(c Column, bottomM float64) (topM, baseM float64, ok bool) {
	roof, floor := max(c.DesignLowM, r.AboveScreenM), bottomM-r.SumpM
	best := 0.0
	for base := floor; base-r.LeastOpenM >= roof; base -= searchM {
		top := r.inOneWater(c, max(roof, base-r.ScreenM), base)
		t, open := c.opened(top, base)
		if open < r.LeastOpenM {
			continue
		}
		if spare := base - r.CoverM - c.DesignLowM - r.drawdownM(t); spare >= best {
			topM, baseM, best, ok = top, base, spare, true
		}
	}
	return topM, baseM, ok
}

// inOneWater returns the top of a screen over a base that keeps to one water: no higher than
// the lowest parting between ground that gives some.
func (r Rules) inOneWater(c Column, topM, baseM float64) float64 {
	gave, tightM, underM := false, 0.0, 0.0
	for _, l := range slices.Backward(c.Layers) {
		switch {
		case l.TopM >= baseM:
		case l.BaseM <= topM:
			return topM
		case !l.GivesWater():
			if tightM == 0 {
				underM = l.BaseM
			}
			tightM += l.BaseM - l.TopM
		case gave && tightM >= r.PartingM:
			return underM
		default:
			gave, tightM = true, 0
		}
	}
	return topM
}

// opened returns the transmissivity in m²/s of the ground worth screening between two
// depths, and its thickness.
func (c Column) opened(topM, baseM float64) (t, thickM float64) {
	for _, l := range c.Layers {
		thick := min(l.BaseM, baseM) - max(l.TopM, topM)
		if thick > 0 && l.GivesWater() {
			t, thickM = t+thick*math.Pow(10, l.Log10K), thickM+thick
		}
	}
	return t, thickM
}

// drawdownM is the fall of the water in the pumped well for a transmissivity in m²/s.
func (r Rules) drawdownM(t float64) float64 {
	q, radius := r.YieldLPS/1000, r.HoleMM/2000
	log := math.Log(max(2.25*t*r.Hours*3600/(radius*radius*r.Storage), 2.25/0.2)) // floored where Cooper-Jacob ends, u = 0.05
	return q / (4 * math.Pi * t) * log / r.Efficiency
}
