package welldesign

import "math"

// slab is what an apron takes.
type slab struct {
	concreteM3, bags, sandM3, gravelM3, meshM2, waterL float64
}

// materials are those of slab, rim and drain. Loose parts fill more than the concrete that
// they make; a bag is 50 kg.
//
// Source: shape from WHO 1997 vol. 3 and SKAT, from memory; loose parts 1.54 times the
// concrete and 1.44 kg of cement a litre, common practice, no source.
func (a ApronRules) materials() slab {
	radius, rim := a.Radius.Value, a.Rim.Value
	out := slab{meshM2: math.Pi * radius * radius}
	out.concreteM3 = out.meshM2*a.Thick.Value + 2*math.Pi*radius*rim*rim + a.Drain.Value*a.DrainM2.Value
	mix := a.Mix.Value()
	part := out.concreteM3 * a.Dry.Value / (mix.Cement + mix.Sand + mix.Gravel)
	out.bags = part * mix.Cement * 1000 * a.CementKg.Value / bagKg
	out.sandM3, out.gravelM3 = part*mix.Sand, part*mix.Gravel
	out.waterL = out.bags*a.Water.Value + out.meshM2*a.Cure.Value*a.Wet.Value
	return out
}
