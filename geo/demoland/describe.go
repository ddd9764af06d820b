package demoland

import (
	"math"
	"math/rand/v2"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// mistakes is what a crew may take a unit for, and how often: neighbours in grain size,
// laterite gravel for crust, gritty weathered rock for sand (common practice, no source).
var mistakes = map[Unit][]struct {
	as    Unit
	share float64
}{
	FloodClay:   {{FloodSilt, 0.08}},
	FloodSilt:   {{FloodClay, 0.08}, {FineLens, 0.05}},
	LowerClay:   {{FloodSilt, 0.04}},
	FineLens:    {{FloodSilt, 0.05}, {MediumLens, 0.08}},
	MediumLens:  {{FineLens, 0.08}, {CoarseLens, 0.08}},
	CoarseLens:  {{MediumLens, 0.08}, {GravelLens, 0.06}},
	GravelLens:  {{CoarseLens, 0.08}},
	DirtyLens:   {{FineLens, 0.1}, {FloodClay, 0.06}},
	Crust:       {{GravelLens, 0.08}},
	MottledClay: {{Saprolite, 0.05}},
	Saprolite:   {{MottledClay, 0.08}},
	Grus:        {{CoarseLens, 0.06}},
	BrokenRock:  {{Grus, 0.05}},
}

func takenFor(r *rand.Rand, u Unit) Unit {
	draw := r.Float64()
	for _, m := range mistakes[u] {
		if draw -= m.share; draw < 0 {
			return m.as
		}
	}
	return u
}

// logStepM is how finely crews write depths; half of them write whole metres only.
func logStepM(r *rand.Rand) float64 {
	if r.Float64() < 0.4 {
		return 1
	}
	return 0.5
}

// describe writes the layers of a hole as its crew saw them.
func describe(r *rand.Rand, layers []Layer, lang Lang, depthM float64) []geo.Layer {
	step := logStepM(r)
	minutes := r.Float64() < 0.3
	var out []geo.Layer
	for i, l := range layers {
		base := math.Round(l.BaseM/step) * step
		if i == len(layers)-1 || base > depthM {
			base = depthM
		}
		top := 0.0
		if len(out) > 0 {
			top = out[len(out)-1].BaseM
		}
		if base-top < 0.15 {
			continue // too thin to be noticed at this step
		}
		out = append(out, wordFor(r, takenFor(r, l.Unit), lang, top, base, minutes))
	}
	if n := len(out); n > 0 {
		out[n-1].BaseM = depthM
	}
	return joinAlike(out)
}

func wordFor(r *rand.Rand, u Unit, lang Lang, top, base float64, minutes bool) geo.Layer {
	m := u.material()
	l := geo.Layer{
		TopM: top, BaseM: base, Words: pick(r, drillersWords[lang][u]),
		Class: m.class, Grade: m.grade, Clayey: m.clayey, Confidence: 0.95,
	}
	if minutes {
		l.MinutesPerM = geo.Some(math.Round(minutesPerM[m.class] * math.Exp(0.35*r.NormFloat64())))
	}
	return l
}

// minutesPerM is how long a crew takes for a metre of a class (composite, from memory).
var minutesPerM = [soil.Count + 1]float64{
	soil.Unknown: 60, soil.Topsoil: 25, soil.Clay: 50, soil.Silt: 35, soil.Sand: 30,
	soil.Gravel: 60, soil.Hardpan: 240, soil.WeatheredRock: 150, soil.FracturedRock: 480, soil.Rock: 900,
}

// joinAlike joins neighbours that were described in the same words.
func joinAlike(layers []geo.Layer) []geo.Layer {
	var out []geo.Layer
	for _, l := range layers {
		if n := len(out); n > 0 && out[n-1].Words == l.Words {
			out[n-1].BaseM = l.BaseM
			continue
		}
		out = append(out, l)
	}
	return out
}
