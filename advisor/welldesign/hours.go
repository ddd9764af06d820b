package welldesign

import (
	"waterstrike/advisor/method"
	"waterstrike/geo/soil"
)

// Work is the time that a well takes a crew, hours; the waiting for cement is not in it.
type Work struct {
	SetUpH  float64 `json:"setUpH"`
	DrillH  float64 `json:"drillH"`
	LineH   float64 `json:"lineH"` // and develop
	ApronH  float64 `json:"apronH"`
	People  int     `json:"people"`
	CrewH   float64 `json:"crewH"`   // person-hours
	DaysOut float64 `json:"daysOut"` // working days at the site
}

// Hours returns the time for a design at z standard deviations of the pace: 0 for the
// middle, 0.8416 for what four holes in five stay below,
//
//		Σ thickness / rate · (1 + 0.03·depth) + setting up + lining + apron.
//
//	  - Units: hours.
//	  - Domain: a design that fits; for others only what it took to drill as far as the
//	    method got. Ground that nobody described is drilled as clay.
//	  - Source: time model of trade practice; rates of the list, or learnt from logs.
//	  - Checked by: TestHoursFollowTheTimeModel, TestDesignLaws.
func Hours(w Well, k Kit, z float64) Work {
	r := k.Rules.Work
	day := r.HoursDay.Value
	out := Work{SetUpH: r.SetUp.Value * day, People: k.Method.Crew}
	for _, t := range w.Tools {
		out.DrillH += k.minutes(t, w.Casing.HoleMM, z) / 60
	}
	if w.Verdict == Fits {
		out.LineH, out.ApronH = r.Lining.Value*day, r.Apron.Value*day
	}
	total := out.SetUpH + out.DrillH + out.LineH + out.ApronH
	out.CrewH = total * float64(out.People)
	out.DaysOut = total / day
	return out
}

// minutes is how long one tool takes over its range.
func (k Kit) minutes(t ToolRange, holeMM, z float64) float64 {
	rate, ok := k.rate(t.Class, t.Below)
	if !ok {
		rate, ok = k.rate(soil.Clay, t.Below)
	}
	if !ok {
		return 0 // a method that cannot drill clay either has no well to take time for
	}
	if holeMM > 0 {
		rate = rate.Wider(k.Method, holeMM)
	}
	return rate.Minutes(t.TopM, t.BaseM, z)
}

func (k Kit) rate(class soil.Class, below bool) (method.Rate, bool) {
	if k.Crew != "" {
		return k.Rates.By(k.Crew, class, below)
	}
	return k.Rates.Of(class, below)
}
