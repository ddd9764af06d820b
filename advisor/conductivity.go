package advisor

import (
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// conductivities are what the bores teach: tests of all of them, yields and outcomes of a
// sample. Records that say nothing are left out, so that none can spoil the fit.
func conductivities(s *evidence.Snapshot) (*hydraulics.Conductivities, error) {
	var placed []hydraulics.Placed
	var all []hydraulics.Tested
	add := func(b *evidence.Bore, plane coord.Plane) {
		for _, p := range placedIn(b, heardFrom(b), plane) {
			placed, all = append(placed, p), append(all, p.Tested)
		}
	}
	sample := s.SampleLevelled(fitYields)
	var plane coord.Plane
	if len(sample) > 0 {
		plane = coord.NewPlane(sample[0].Pos)
	}
	for _, b := range sample {
		add(b, plane)
	}
	k, err := hydraulics.Learn(all)
	if err != nil {
		return nil, err
	}
	k.Relate(placed)
	return k, nil
}

// heardFrom is what a bore says of the ground behind its screen: by its tests, or where
// nobody tested it by its yield or by how it came out.
func heardFrom(b *evidence.Bore) []hydraulics.Tested {
	assumed := hydraulics.DefaultAssumed()
	if b.Tested != nil {
		return hydraulics.Evidence(recordOf(b), assumed)
	}
	if len(b.Levels) == 0 || b.Levels[0].State == geo.LevelDryTo {
		return nil
	}
	if t, ok := hydraulics.Reports(recordOf(b), float64(b.Levels[0].DepthM), assumed); ok {
		return []hydraulics.Tested{t}
	}
	return nil
}

func placedIn(b *evidence.Bore, heard []hydraulics.Tested, plane coord.Plane) (out []hydraulics.Placed) {
	for _, t := range heard {
		xy := plane.XY(b.Pos)
		out = append(out, hydraulics.Placed{X: xy.X, Y: xy.Y, Tested: t})
	}
	return out
}

// recordOf is what of a bore's record its yield and tests are read with.
func recordOf(b *evidence.Bore) geo.Bore {
	r := geo.Bore{Outcome: b.Outcome, DepthM: b.DepthM, YieldLPS: b.YieldLPS}
	if at, ok := b.Screen.Get(); ok {
		r.Pipes = []geo.Pipe{{Kind: geo.Screen, TopM: float64(at.TopM), BaseM: float64(at.BaseM)}}
	}
	if b.Tested != nil {
		r.Tests, r.Pipes = b.Tested.Tests, b.Tested.Pipes
	}
	for _, l := range b.Layers {
		r.Layers = append(r.Layers, geo.Layer{
			TopM: float64(l.TopM), BaseM: float64(l.BaseM), Class: l.Class, Grade: l.Grade, Clayey: l.Clayey,
		})
	}
	return r
}
