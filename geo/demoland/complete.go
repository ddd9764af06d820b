package demoland

import (
	"math"
	"math/rand/v2"
	"time"

	"waterstrike/geo"
)

// complete adds what only a lined bore has: pipes, fills, yield, some tests and samples.
func (l *Land) complete(r *rand.Rand, b *geo.Bore, h Hole, crew Crew, on time.Time) {
	yield, wet := h.YieldLPS.Get()
	lined := h.Outcome == geo.Producing || h.Outcome == geo.LowYield || h.Outcome == geo.BadWater
	if !wet || !lined {
		return
	}
	b.YieldLPS = geo.Some(max(round(min(yield, 2)*math.Exp(0.15*r.NormFloat64()), 0.01), 0.01))
	pipes(b, crew)
	if r.Float64() < 0.15 && h.Outcome == geo.Producing {
		b.Tests = []geo.PumpTest{pumpTest(r, h, crew, on)}
	}
	if r.Float64() < 0.3 {
		b.Samples = l.samples(r, b.Position.Or(l.position(pt{})).Pos, b.DepthM.Or(0), on)
	}
}

// pipes lines the bore: screen at its foot, pack around it, clay, and cement on top.
func pipes(b *geo.Bore, crew Crew) {
	depth := b.DepthM.Or(0)
	foot := round(depth-0.5, 0.1)
	top := round(max(foot-3, 1), 0.1)
	if top >= foot {
		return
	}
	diameter := geo.Some(round(crew.HoleMM*0.73, 1))
	b.Pipes = []geo.Pipe{
		{Kind: geo.Casing, TopM: 0, BaseM: top, DiameterMM: diameter, Material: "PVC"},
		{Kind: geo.Screen, TopM: top, BaseM: foot, DiameterMM: diameter, SlotMM: geo.Some(1.0), Material: "PVC"},
		{Kind: geo.Plug, TopM: foot, BaseM: depth, DiameterMM: diameter, Material: "PVC"},
	}
	packTop := round(max(top-1, 0.5), 0.1)
	seal := min(3, round(packTop-0.3, 0.1))
	b.Fills = []geo.Fill{{Kind: geo.Pack, TopM: packTop, BaseM: depth}}
	if seal > 0 && seal < packTop {
		b.Fills = append(b.Fills, geo.Fill{Kind: geo.ClaySeal, TopM: seal, BaseM: packTop},
			geo.Fill{Kind: geo.Grout, TopM: 0, BaseM: seal})
	}
}

// pumpTest is a few hours at a rate that the bore bears, by the same law as its yield.
func pumpTest(r *rand.Rand, h Hole, crew Crew, on time.Time) geo.PumpTest {
	rest, depth := h.RestM.Or(0), h.DepthM
	t, _ := Column{Layers: h.Layers}.opened(max(h.StrikeM.Or(0), depth-4), depth)
	rules := HandPump(crew.Limits, crew.HoleMM)
	rules.Hours = float64(2 + r.IntN(7))
	rules.YieldLPS = round(min(0.6*h.YieldLPS.Or(0), 0.6), 0.01)
	return geo.PumpTest{
		Kind: geo.ConstantRate, On: dateOf(on.AddDate(0, 0, 2)), RateLPS: geo.Some(rules.YieldLPS),
		Hours: geo.Some(rules.Hours), RestM: geo.Some(round(rest, 0.01)),
		PumpingM: geo.Some(round(min(rest+rules.drawdownM(t)*math.Exp(0.05*r.NormFloat64()), depth), 0.01)),
	}
}
