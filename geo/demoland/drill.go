package demoland

import (
	"math"
	"math/rand/v2"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Hole is what a crew found, before anyone wrote it down.
type Hole struct {
	Outcome  geo.Outcome
	DepthM   float64
	RefusalM geo.Opt[float64]
	StrikeM  geo.Opt[float64] // where they noticed water
	PerchedM geo.Opt[float64] // wet-season water on the crust that they met on the way
	RestM    geo.Opt[float64] // rest level that day, when the hole met water
	YieldLPS geo.Opt[float64] // what it would give for an hour
	Layers   []Layer          // passed, the last one cut at the bottom
}

// bitM is how far a bit bites into ground that stops it.
const bitM = 0.2

// Drill lets a crew drill at p on a day: until it has gone as far below the strike as it
// wishes, or its depth, its reach below water or the ground stops it. The same crew, day
// and place always find the same.
func (l *Land) Drill(p coord.LonLat, crew Crew, on time.Time) Hole {
	c := l.column(l.frame(p))
	r := l.luck(c.at, crew.Method, on)
	season := l.Season(on)
	rest := c.level(season, l.YearEffect(on))
	strike := c.strikeM(rest)
	refusal, _ := crew.Limits.refusalM(c.Layers, between(r, 0.7, 1.3))
	refusal = min(refusal, boulderM(r, c.Layers))
	wish := strike + crew.BelowStrikeM*between(r, 0.8, 1.5)
	water := rest
	if c.Confined {
		water = strike
	}
	depth := min(wish, crew.Limits.MaxDepthM*between(r, 0.65, 1), water+crew.Limits.BelowWaterM, refusal+bitM, ColumnM)
	h := Hole{DepthM: depth, Layers: cutAt(c.Layers, depth)}
	if depth == refusal+bitM {
		h.RefusalM = geo.Some(depth)
	}
	if at, ok := c.PerchedM.Get(); ok && season > 0.45 && at < depth {
		h.PerchedM = c.PerchedM
	}
	if depth > strike+0.1 {
		h.StrikeM, h.RestM = geo.Some(strike), geo.Some(rest)
		h.YieldLPS = geo.Some(yieldLPS(c.Column, crew, rest, strike, depth))
	}
	h.Outcome = h.judge(r, crew, c.Column, rest)
	return h
}

// luck is the hole's own source of chance.
func (l *Land) luck(p pt, method geo.Method, on time.Time) *rand.Rand {
	r := stream(l.seed, string(method))
	mixed := r.Uint64() ^ uint64(int64(math.Round(p.u)))*0x9e3779b97f4a7c15 ^
		uint64(int64(math.Round(p.v)))*0xc2b2ae3d27d4eb4f ^ uint64(on.Unix()/86400)*0x165667b19e3779f9
	return rand.New(rand.NewPCG(l.seed, mixed))
}

// boulderM is the depth of the first stone too big for the bit: they float in weathered
// rock, one in some 60 m of hole (common practice, no source).
func boulderM(r *rand.Rand, layers []Layer) float64 {
	left := 60 * r.ExpFloat64()
	for _, l := range layers {
		if l.Class != soil.WeatheredRock && l.Class != soil.Hardpan {
			continue
		}
		if left < l.BaseM-l.TopM {
			return l.TopM + left
		}
		left -= l.BaseM - l.TopM
	}
	return math.Inf(1)
}

func cutAt(layers []Layer, depthM float64) []Layer {
	var out []Layer
	for _, l := range layers {
		if l.TopM >= depthM {
			break
		}
		l.BaseM = min(l.BaseM, depthM)
		out = append(out, l)
	}
	return out
}

// yieldLPS is what an hour of bailing or pumping brings: Cooper & Jacob (1946) over the
// lowest 4 m that are open, with the water drawn down to 1 m above the bottom.
func yieldLPS(c Column, crew Crew, rest, strike, depth float64) float64 {
	t, _ := c.opened(max(strike, depth-4), depth)
	if t == 0 {
		return 0
	}
	r := HandPump(crew.Limits, crew.HoleMM)
	r.Hours, r.YieldLPS = 1, 1
	return max(depth-rest-1, 0.2) / r.drawdownM(t)
}

// enoughLPS is the least that crews called producing: 7.6 L/min (Lifewater's first
// performance target).
const enoughLPS = 7.6 / 60

// triedM is how far below the strike a hole must have gone to be judged by its yield.
const triedM = 2.0

// givenUp is the share of a method's depth below which crews call a hole without water
// dry, whatever stopped it.
const givenUp = 0.45

func (h Hole) judge(r *rand.Rand, crew Crew, c Column, rest float64) geo.Outcome {
	collapse := r.Float64()
	yield, wet := h.YieldLPS.Get()
	switch {
	case !wet && h.RefusalM.Known() && h.DepthM < givenUp*crew.Limits.MaxDepthM:
		return geo.Refused
	case !wet:
		return geo.Dry
	case collapse < crew.CollapseShare && h.wetSandM(rest) > 0.5:
		return geo.Collapsed
	case h.DepthM > c.SaltBelowM.Or(math.Inf(1)):
		return geo.BadWater
	case yield >= enoughLPS:
		return geo.Producing
	case h.RefusalM.Known() && h.DepthM-h.StrikeM.Or(0) < triedM:
		return geo.Refused
	}
	return geo.LowYield
}

// wetSandM is how much sand below water the hole passed.
func (h Hole) wetSandM(rest float64) float64 {
	sum := 0.0
	for _, l := range h.Layers {
		if l.Class == soil.Sand {
			sum += max(0, l.BaseM-max(l.TopM, rest))
		}
	}
	return sum
}
