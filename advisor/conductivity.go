package advisor

import (
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// conductivities are what the pump and bailer tests of all bores teach. Tests that say
// nothing are left out, so that no record can spoil the fit.
func conductivities(s *evidence.Snapshot) (*hydraulics.Conductivities, error) {
	var all []hydraulics.Tested
	for _, b := range s.Bores() {
		if b.Tested != nil {
			all = append(all, hydraulics.Evidence(recordOf(b), hydraulics.DefaultAssumed())...)
		}
	}
	return hydraulics.Learn(all)
}

// recordOf is what of a tested bore's record its tests are read with.
func recordOf(b *evidence.Bore) geo.Bore {
	r := geo.Bore{Tests: b.Tested.Tests, Pipes: b.Tested.Pipes}
	for _, l := range b.Layers {
		r.Layers = append(r.Layers, geo.Layer{
			TopM: float64(l.TopM), BaseM: float64(l.BaseM), Class: l.Class, Grade: l.Grade, Clayey: l.Clayey,
		})
	}
	return r
}
