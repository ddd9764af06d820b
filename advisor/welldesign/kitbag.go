package welldesign

import (
	"waterstrike/advisor/method"
	"waterstrike/geo"
)

// Kitbag lists what goes along besides what a well takes: for safety first, then for
// measuring, then spares and tools that a hole has stood still for.
//
// Source: common practice, no source.
func Kitbag(m *method.Method, w Well) []geo.Code {
	out := []geo.Code{
		"kit.hole-cover", "kit.fence", "kit.first-aid", "kit.gloves", "kit.goggles",
		"kit.tape", "kit.log", "kit.position", "kit.test-kit", "kit.bottles",
		"kit.centralisers", "kit.saw", "kit.test-pump", "kit.buckets", "kit.spare-rope", "kit.spare-edge",
	}
	if m.Fluid {
		out = append(out, "kit.pit-lining", "kit.water-tank")
	}
	if m.Casing == method.BailInside {
		out = append(out, "kit.spare-valve")
	}
	if casedTo(w) > 0 {
		out = append(out, "kit.jack")
	}
	if w.MayFlow {
		out = append(out, "kit.flow-cap")
	}
	return append(out, "kit.closing")
}
