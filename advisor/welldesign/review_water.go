package welldesign

import (
	"slices"

	"waterstrike/geo"
)

// tests judges what was pumped, for how long, and how far the water fell.
func (v *review) tests() {
	if v.Outcome != geo.Producing && len(v.Tests) == 0 {
		return
	}
	if len(v.Tests) == 0 {
		v.say(geo.Note, "asbuilt.not-tested")
		return
	}
	y := v.rules.Yield
	best, enough := 0.0, false
	for _, t := range v.Tests {
		rate, known := t.RateLPS.Get()
		best = max(best, rate)
		hours, timed := t.Hours.Get()
		enough = enough || known && rate*60 >= y.Acceptance.Value()-slackM && (!timed || hours >= y.TestHours.Value-slackM)
		v.pumpedLow(t)
	}
	switch {
	case enough || best == 0:
	case best*60 < y.Acceptance.Value()-slackM:
		v.say(geo.Doubt, "asbuilt.test-weak", geo.With("yield", geo.LPS(best)), geo.With("amount", geo.Number(y.Acceptance.Value())))
	default:
		v.say(geo.Note, "asbuilt.test-short", geo.With("amount", geo.Number(y.TestHours.Value)))
	}
}

// pumpedLow reports a test that drew the water down to the pump, or below the screen's top.
func (v *review) pumpedLow(t geo.PumpTest) {
	pumping, known := t.PumpingM.Get()
	screens := v.screens()
	if !known || len(screens) == 0 {
		return
	}
	top, base := screens[0].TopM, screens[len(screens)-1].BaseM
	if rest, known := t.RestM.Get(); known && rest > pumping+measuredM {
		v.say(geo.Doubt, "asbuilt.test-upside-down", metres("from", rest), metres("to", pumping))
		return
	}
	switch {
	case pumping > base+measuredM:
		v.say(geo.Doubt, "asbuilt.pumped-below", metres("level", pumping), metres("to", base))
	case base-pumping < v.rules.Yield.Cover.Value-measuredM:
		v.say(geo.Doubt, "asbuilt.no-cover", metres("level", pumping), metres("to", base))
	case pumping > top+measuredM:
		v.say(geo.Note, "asbuilt.pumped-into-screen", metres("level", pumping), metres("from", top))
	}
}

// unfit reports a result above what may be drunk, manganese by the rule in force.
func (v *review) unfit(s geo.Sample) bool {
	verdict, limit := geo.JudgeAs(geo.HealthLimit, s)
	if s.Analyte != "manganese" {
		return verdict == geo.Above
	}
	a, _, known := geo.FindAnalyte(s.Analyte)
	value, measured := s.Value.Get()
	if !known || !measured || limit.Kind == "" {
		return false
	}
	mgL, err := a.In(value, s.Unit, s.Basis)
	return err == nil && mgL > v.rules.Drinking.Manganese.Value()
}

// asked are what water is tested for before anyone drinks it.
func asked() []string { return []string{"e-coli", "nitrate", "ec", "arsenic", "fluoride"} }

// drinking reports results above what may be drunk, and what was never tested.
func (v *review) drinking() {
	if v.Outcome != geo.Producing && len(v.Samples) == 0 {
		return
	}
	tested := map[string]bool{}
	for _, s := range v.Samples {
		tested[s.Analyte] = true
		if v.unfit(s) {
			v.say(geo.Doubt, "asbuilt.unfit", geo.With("reason", geo.Ref("analyte."+geo.Code(s.Analyte))))
		}
	}
	var not geo.Refs
	for _, analyte := range asked() {
		if !tested[analyte] {
			not = append(not, "analyte."+geo.Code(analyte))
		}
	}
	if len(not) > 0 {
		v.say(geo.Note, "asbuilt.not-analysed", geo.With("reason", not))
	}
}

func rank(s geo.Severity) int {
	return slices.Index([]geo.Severity{geo.Rejected, geo.Doubt, geo.Note}, s)
}
