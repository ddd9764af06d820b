package check_test

import (
	"fmt"
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/check"
)

// rest is a mistake in the rest level.
func rest(wrong func(m *maker, b *geo.Bore, was float64) float64) func(*maker, *geo.Bore) bool {
	return func(m *maker, b *geo.Bore) bool {
		return withRest(b, func(l *geo.Level) { l.DepthM = geo.Some(math.Round(100*wrong(m, b, l.DepthM.Or(0))) / 100) })
	}
}

var deep = []geo.Code{check.LevelUnderBottom, check.LevelUnderStrike, check.LevelOutlier}

var levelMistakes = []mistake{
	{"level below the hole", []geo.Code{check.LevelUnderBottom}, 100, rest(func(_ *maker, b *geo.Bore, _ float64) float64 { return b.DepthM.Or(0) + 2 })},
	{"level ten times", append(deep, check.BoreInFeet), 90, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was * 10 })},
	// A tenth of the level is a usual level of a wetter spot; it shows where the water came in
	// as high as it stands.
	{"level a tenth", []geo.Code{check.LevelTenth}, 30, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was / 10 })},
	{"level in feet", deep, 90, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was / 0.3048 })},
	{"level in centimetres", deep, 100, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was * 100 })},
	{"elevation of the water as its depth", deep, 80, rest(func(_ *maker, b *geo.Bore, was float64) float64 {
		return b.Ground.Or(geo.Elevation{}).M - was
	})},
	{"pumping level as rest level", deep, 80, rest(func(_ *maker, b *geo.Bore, was float64) float64 { return was + 0.6*(b.DepthM.Or(0)-was) })},
	// Half a metre is within what season and reading make of any one level; it shows where
	// water came in as high as it stands.
	{"level from the pedestal", append(deep, check.LevelNotReduced), 25, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was + 0.6 })},
	{"casing not taken off", []geo.Code{check.LevelNotReduced}, 90, func(_ *maker, b *geo.Bore) bool {
		return withRest(b, func(l *geo.Level) { l.ReferenceM, l.Words = geo.Some(0.6), fmt.Sprint(l.DepthM.Or(0)) })
	}},
	// So is this: half a metre.
	{"casing taken off twice", []geo.Code{check.LevelNotReduced}, 0, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was - 0.6 })},
	{"zero for not measured", []geo.Code{check.LevelZero}, 90, func(_ *maker, b *geo.Bore) bool {
		return withRest(b, func(l *geo.Level) { l.DepthM, l.Words = geo.Some(0.0), "0" })
	}},
}

var deepHole = []geo.Code{check.DepthOutlier, check.LayersEndEarly, check.DepthBeyondMethod, check.LayersInFeet, check.LayersUnderBottom, check.LiningUnderBottom}

var sizeMistakes = []mistake{
	{"depth ten times", deepHole, 90, depth(10)},
	{"depth a tenth", deepHole, 90, depth(0.1)},
	{"depth in centimetres", deepHole, 100, depth(100)},
	{"depth in feet, layers in metres", deepHole, 90, depth(1 / 0.3048)},
	// A hole that stone stopped tells of its spot alone.
	{"depth ten times, no layers", deepHole, 70, func(m *maker, b *geo.Bore) bool { return bare(b) && depth(10)(m, b) }},
	{"layers in feet", []geo.Code{check.LayersInFeet}, 90, func(_ *maker, b *geo.Bore) bool {
		scale(b.Layers, 1/0.3048)
		return len(b.Layers) > 0
	}},
	{"everything in feet", []geo.Code{check.BoreInFeet, check.DepthOutlier, check.LevelOutlier, check.DepthBeyondMethod, check.BoreRoundInFeet}, 90, inFeet},
	// Without layers only the neighbours are left.
	{"everything in feet, no layers", []geo.Code{check.BoreInFeet, check.DepthOutlier, check.LevelOutlier, check.DepthBeyondMethod, check.BoreRoundInFeet}, 35, func(m *maker, b *geo.Bore) bool { return bare(b) && inFeet(m, b) }},
	{"litres a minute for a second", flows, 90, yield(60)},
	// Nor is a factor of 3.6 to be seen in them.
	{"cubic metres an hour for litres a second", flows, 0, yield(3.6)},
	{"litres an hour for litres a second", flows, 90, yield(3600)},
	{"litres a second for a minute", flows, 90, yield(1.0 / 60)},
	// Yields of a region differ a hundred times by nature.
	{"yield ten times", flows, 30, yield(10)},
	{"yield a tenth", flows, 20, yield(0.1)},
	{"producing with a yield of nothing", []geo.Code{check.WorksButDry}, 100, func(_ *maker, b *geo.Bore) bool {
		b.YieldLPS = geo.Some(0.0)
		return b.Outcome == geo.Producing
	}},
	{"dry with a yield", []geo.Code{check.DryWithWater}, 100, func(_ *maker, b *geo.Bore) bool {
		b.Outcome = geo.Dry
		return b.YieldLPS.Or(0) > 0
	}},
	{"dry with a level", []geo.Code{check.DryWithWater}, 100, func(_ *maker, b *geo.Bore) bool {
		b.Outcome, b.YieldLPS = geo.Dry, geo.Opt[float64]{}
		return withRest(b, func(*geo.Level) {})
	}},
	{"producing, no water found", []geo.Code{check.WorksButDry}, 100, func(_ *maker, b *geo.Bore) bool {
		was := b.Outcome
		b.Outcome = geo.Producing
		return was != geo.Producing && len(b.Levels) > 0 && b.Levels[0].State == geo.LevelDryTo
	}},
	{"strike below the hole", []geo.Code{check.StrikeUnderBottom}, 100, func(_ *maker, b *geo.Bore) bool {
		b.Strikes = []geo.Strike{{DepthM: b.DepthM.Or(0) + 3}}
		return true
	}},
	{"refusal below the hole", []geo.Code{check.RefusalUnderBottom}, 100, func(_ *maker, b *geo.Bore) bool {
		b.RefusalM = geo.Some(b.DepthM.Or(0) + 3)
		return true
	}},
}

var flows = []geo.Code{check.YieldBeyondMethod, check.YieldAgainstOutcome, check.YieldOutlier}

func yield(by float64) func(*maker, *geo.Bore) bool {
	return func(_ *maker, b *geo.Bore) bool {
		b.YieldLPS = times(b.YieldLPS, by)
		return b.YieldLPS.Or(0) > 0
	}
}

func depth(by float64) func(*maker, *geo.Bore) bool {
	return func(_ *maker, b *geo.Bore) bool {
		b.DepthM = times(b.DepthM, by)
		return b.DepthM.Known()
	}
}

// bare takes from a bore all that its depth could be held against.
func bare(b *geo.Bore) bool {
	b.Layers, b.Pipes, b.Fills, b.RefusalM = nil, nil, nil, geo.Opt[float64]{}
	return true
}

// inFeet is a whole record in feet, to the decimetre as people write.
func inFeet(_ *maker, b *geo.Bore) bool {
	feet := func(m float64) float64 { return math.Round(m/0.3048*10) / 10 }
	for i := range b.Layers {
		b.Layers[i].TopM, b.Layers[i].BaseM = feet(b.Layers[i].TopM), feet(b.Layers[i].BaseM)
	}
	for i := range b.Pipes {
		b.Pipes[i].TopM, b.Pipes[i].BaseM = feet(b.Pipes[i].TopM), feet(b.Pipes[i].BaseM)
	}
	for i := range b.Fills {
		b.Fills[i].TopM, b.Fills[i].BaseM = feet(b.Fills[i].TopM), feet(b.Fills[i].BaseM)
	}
	for i := range b.Strikes {
		b.Strikes[i].DepthM = feet(b.Strikes[i].DepthM)
	}
	for _, v := range []*geo.Opt[float64]{&b.DepthM, &b.RefusalM} {
		if m, known := v.Get(); known {
			*v = geo.Some(feet(m))
		}
	}
	return withRest(b, func(l *geo.Level) { l.DepthM = geo.Some(feet(l.DepthM.Or(0))) })
}

var logMistakes = []mistake{
	{"layers overlap", []geo.Code{check.LayersOverlap, check.TwoLogs}, 90, func(_ *maker, b *geo.Bore) bool {
		if len(b.Layers) > 1 {
			b.Layers[1].TopM -= 0.4 * (b.Layers[0].BaseM - b.Layers[0].TopM)
		}
		return len(b.Layers) > 1
	}},
	{"gap in the log", []geo.Code{check.LayersGap}, 90, func(_ *maker, b *geo.Bore) bool {
		if len(b.Layers) > 2 {
			b.Layers = slices.Delete(b.Layers, 1, 2)
			return true
		}
		return false
	}},
	{"first layer missing", []geo.Code{check.LayersGap}, 90, func(_ *maker, b *geo.Bore) bool {
		if len(b.Layers) > 1 {
			b.Layers = b.Layers[1:]
			return true
		}
		return false
	}},
	{"last layer missing", []geo.Code{check.LayersEndEarly, check.LogAbsent}, 90, func(_ *maker, b *geo.Bore) bool {
		b.Layers = b.Layers[:max(0, len(b.Layers)-1)]
		return true
	}},
	{"two logs merged", []geo.Code{check.TwoLogs, check.LayersOverlap}, 90, func(m *maker, b *geo.Bore) bool {
		other := m.one()
		b.Layers = slices.Concat(b.Layers, other.Layers)
		return len(other.Layers) > 1 && len(b.Layers) > len(other.Layers)+1 && b.ID != other.ID
	}},
	{"two logs one below the other", []geo.Code{check.LayersUnderBottom, check.LayersUpsideDown, check.LayersInFeet}, 90, func(m *maker, b *geo.Bore) bool {
		other, end := m.one(), b.LoggedM()
		for _, l := range other.Layers {
			l.TopM, l.BaseM = l.TopM+end, l.BaseM+end
			b.Layers = append(b.Layers, l)
		}
		return len(other.Layers) > 1 && b.ID != other.ID
	}},
	{"thickness in the place of the base", []geo.Code{check.LayersGap, check.LayersEndEarly, check.LayersOverlap, check.TwoLogs}, 90, func(_ *maker, b *geo.Bore) bool {
		var kept []geo.Layer
		for _, l := range b.Layers {
			if l.BaseM -= l.TopM; l.BaseM > l.TopM {
				kept = append(kept, l) // intake refuses the others
			}
		}
		changed := len(kept) < len(b.Layers) || len(kept) > 1
		b.Layers = kept
		return changed && len(kept) > 0
	}},
	{"base in the place of the thickness", []geo.Code{check.LayersUnderBottom, check.LayersInFeet}, 90, func(_ *maker, b *geo.Bore) bool {
		end := 0.0
		for i := range b.Layers {
			b.Layers[i].TopM, b.Layers[i].BaseM = end, end+b.Layers[i].BaseM
			end = b.Layers[i].BaseM
		}
		return len(b.Layers) > 1
	}},
	{"layers from the bottom up", []geo.Code{check.LayersUpsideDown}, 90, func(_ *maker, b *geo.Bore) bool {
		words := slices.Clone(b.Layers)
		slices.Reverse(words)
		for i := range b.Layers {
			words[i].TopM, words[i].BaseM = b.Layers[i].TopM, b.Layers[i].BaseM
		}
		b.Layers = words
		return len(words) > 2
	}},
	{"a base ten times", []geo.Code{check.LayersOverlap, check.LayersUnderBottom, check.TwoLogs, check.LayersInFeet}, 90, func(m *maker, b *geo.Bore) bool {
		l := &b.Layers[m.draw.IntN(len(b.Layers))]
		l.BaseM *= 10
		return true
	}},
}

var liningMistakes = []mistake{
	{"pipe longer than the hole", []geo.Code{check.LiningUnderBottom}, 100, lined(func(b *geo.Bore) { b.Pipes[len(b.Pipes)-1].BaseM += 4 })},
	{"pipe in feet", []geo.Code{check.LiningUnderBottom}, 100, lined(func(b *geo.Bore) {
		for i := range b.Pipes {
			b.Pipes[i].TopM, b.Pipes[i].BaseM = b.Pipes[i].TopM/0.3048, b.Pipes[i].BaseM/0.3048
		}
	})},
	{"diameter in inches", []geo.Code{check.DiameterOff}, 100, lined(func(b *geo.Bore) { diameters(b, 1/25.4) })},
	{"diameter of inches taken twice", []geo.Code{check.DiameterOff}, 100, lined(func(b *geo.Bore) { diameters(b, 25.4) })},
	{"diameter in centimetres", []geo.Code{check.DiameterOff}, 100, lined(func(b *geo.Bore) { diameters(b, 0.1) })},
	{"screen opposite clay", []geo.Code{check.ScreenInTight}, 90, lined(func(b *geo.Bore) {
		for i := range b.Layers {
			if b.Layers[i].BaseM > 3 {
				b.Layers[i].Class = tightClass
			}
		}
	})},
	{"screen at the top", []geo.Code{check.ScreenDry, check.ScreenAboveLevel, check.ScreenInTight}, 80, func(_ *maker, b *geo.Bore) bool {
		for i := range b.Pipes {
			if b.Pipes[i].Kind == geo.Screen {
				b.Pipes[i].TopM, b.Pipes[i].BaseM = 0.5, 2.5
			}
		}
		return len(b.Pipes) > 0 && withRest(b, func(*geo.Level) {})
	}},
	{"no seal", []geo.Code{check.SealAbsent}, 100, filled(func(b *geo.Bore) {
		b.Fills = slices.DeleteFunc(b.Fills, func(f geo.Fill) bool { return f.Kind != geo.Pack })
	})},
	{"seal of a metre", []geo.Code{check.SealShort}, 100, filled(func(b *geo.Bore) {
		b.Fills = slices.DeleteFunc(b.Fills, func(f geo.Fill) bool { return f.Kind == geo.ClaySeal || f.Kind == geo.Grout })
		b.Fills = append(b.Fills, geo.Fill{Kind: geo.Grout, BaseM: 1})
	})},
	{"pack to the surface", []geo.Code{check.SealAbsent, check.PackJoinsLayers, check.SealShort}, 100, filled(func(b *geo.Bore) {
		for i := range b.Fills {
			if b.Fills[i].Kind == geo.Pack {
				b.Fills[i].TopM = 0.2
			}
		}
	})},
}

func lined(wrong func(*geo.Bore)) func(*maker, *geo.Bore) bool {
	return func(_ *maker, b *geo.Bore) bool {
		if len(b.Pipes) == 0 {
			return false
		}
		wrong(b)
		return true
	}
}

func filled(wrong func(*geo.Bore)) func(*maker, *geo.Bore) bool {
	return func(_ *maker, b *geo.Bore) bool {
		if len(b.Fills) == 0 {
			return false
		}
		wrong(b)
		return true
	}
}

func diameters(b *geo.Bore, by float64) {
	for i := range b.Pipes {
		b.Pipes[i].DiameterMM = times(b.Pipes[i].DiameterMM, by)
	}
}
