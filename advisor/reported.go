package advisor

import (
	"context"
	"time"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/geo"
)

// TestedLPS is what a crew's test asks of a bore on the day it is done, for two hours: 7.6
// L/min, the first performance target of Lifewater.
const TestedLPS = 7.6 / 60

const testedDays = 2.0 / 24

// Reported is the chance that a crew which drills here by a method on a day reports a bore
// that produces. It is how records are compared with the chance of lasting water, and never
// shown in its place: on a day when water stands high a bore passes its test that falls dry
// later, one that cannot be sealed passes too, and what is lost to the work counts as failed.
// ok is false where no chance can be stated.
//
//   - Domain: a method of the rules; without a month the mean over the year.
//   - Errors: those of [Advisor.Advise].
//   - Source: an observation model of what is reported, its test from Lifewater's targets.
//   - Checked by: TestReported.
func (p *Place) Reported(ctx context.Context, q Question, on geo.Date) (chance float64, ok bool, err error) {
	a := p.advisor
	q.At = p.at
	if err := a.answerable(ctx, q); err != nil {
		return 0, false, err
	}
	water, err := p.water()
	mixture := p.layers()
	if err != nil || water == nil || mixture == nil {
		return 0, false, err
	}
	if p.asked != q {
		p.drawn, p.asked = a.grounds(p.near, mixture, seeded(q)), q
	}
	for i := range a.drillers {
		if a.drillers[i].Code == q.Method {
			chance = a.testers[i].reported(p.drawn, water.Distribution, on)
		}
	}
	return chance * a.fits.lost.kept(q.Method), true, nil
}

// tester is a driller whose well has only to pass the crew's test: nobody asks yet whether it
// can be sealed, or what it gives at the end of the dry season.
func (d *driller) tester() (*driller, error) {
	duty := hydraulics.HandPump(d.HoleMM)
	duty.DischargeM3D, duty.Days = TestedLPS*86.4, testedDays
	return drillerFor(d.Method, duty, 0)
}

// reported is the chance that the test is passed on a day, over all grounds and a few levels.
func (d *driller) reported(grounds []weighed, water level.Distribution, on geo.Date) (chance float64) {
	levels, shares, total := appendLevels(nil, water), rises(water, on), 0.0
	for i := range grounds {
		g := &grounds[i]
		weight := max(g.weight, leastWeight)
		total += weight
		x := d.in(&g.ground)
		for _, l := range levels {
			for _, share := range shares {
				risen := water.Risen(l.lowM, share)
				r := x.at(risen, risen)
				chance += weight * l.odds * r.chance() / float64(len(shares))
			}
		}
	}
	return chance / total
}

// rises are the shares of the yearly range by which water stands above its low on a day:
// one, or where the month is not known those of a day in every season.
func rises(water level.Distribution, on geo.Date) (out []float64) {
	months := []time.Month{time.Month(on.Month)}
	if on.Month == 0 {
		months = []time.Month{time.January, time.April, time.July, time.October}
	}
	for _, m := range months {
		out = append(out, min(max(water.Rise(m), 0), 1))
	}
	return out
}
