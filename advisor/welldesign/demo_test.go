package welldesign_test

import (
	"math"
	"testing"

	"waterstrike/advisor/method"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo/demoland"
)

// demoSites are columns of the invented region where villages lie, as they truly are.
func demoSites(t testing.TB) []welldesign.Site {
	t.Helper()
	land := demoland.New(1)
	var out []welldesign.Site
	for _, p := range land.VillageSites(40, 7) {
		c := land.Column(p)
		s := welldesign.Site{Water: water(c.WetHighM, c.NormalLowM, c.DesignLowM)}
		for _, l := range c.Layers {
			s.Layers = append(s.Layers, welldesign.Layer{TopM: l.TopM, BaseM: l.BaseM, Class: l.Class, Grade: l.Grade, Clayey: l.Clayey})
		}
		out = append(out, s)
	}
	return out
}

// On the invented region, whose ground gives as the land knows and not as is believed of its
// class, designs must go with the truth: a column in which a bore by stated rules lasts has
// a design, but where a pack would join two waters, which the land does not mind; and the
// chances said of the yield are those of the columns.
func TestDesignsOfTheLand(t *testing.T) {
	land := demoland.New(1)
	k := kit(t, "percussion")
	sites := demoSites(t)
	var lasts, designed, chance, gave float64
	for i, p := range land.VillageSites(len(sites), 7) {
		truth := land.Judge(p, demoland.HandPump(limits(k.Method), k.Method.HoleMM))
		w, err := welldesign.Design(sites[i], k)
		if err != nil {
			t.Fatal(err)
		}
		fits := w.Verdict == welldesign.Fits
		if truth.Fails == demoland.None {
			lasts++
		}
		if truth.Fails == demoland.None && fits {
			designed++
		}
		if fits {
			chance += w.Chance
			if truth.Fails == demoland.None {
				gave++
			}
		}
	}
	t.Logf("%v of %v columns where a bore lasts have a design; of the designs %.1f were said to yield and %v last", designed, lasts, chance, gave)
	if designed < 0.8*lasts {
		t.Errorf("only %v of %v columns where a bore lasts have a design", designed, lasts)
	}
}

// limits are a method's in the land's own words.
func limits(m *method.Method) demoland.Limits {
	l := demoland.Limits{MaxDepthM: m.MaxDepthM, BelowWaterM: m.BelowWaterM}
	for class, g := range m.Ground {
		switch g.Pace {
		case method.Free:
			l.PassM[class] = math.Inf(1)
		case method.Slow:
			l.PassM[class] = g.CrossableM
		}
	}
	return l
}
