package demoland

// profile holds the thicknesses of the weathered profile at one point, in metres.
type profile struct{ topsoil, crust, mottled, saprolite, grus, broken float64 }

// profileAt works out the weathered profile where coverM of younger deposits lie on it.
// Thicknesses: soil 0.5-3, laterite and mottled clay 0-10, clayey saprolite 5-25, sandy
// base 2-10 m (Wright 1992; Chilton & Foster 1995, from memory), with rock near the
// surface here and there.
func (l *Land) profileAt(p pt, r relief, coverM float64) profile {
	at := func(i int) float64 { return l.fields[i].at(p) }
	patch := at(crustField)
	weather := at(regolithField)
	depth := l.regolithM * (0.78 + 0.6*r.plateau) * (1 + 0.22*clamp(weather, -2, 2) + 0.08*at(basalField)) * (0.12 + 0.88*ramp(weather, -2.1, -1.2))
	out := profile{
		topsoil: clamp(0.55+0.2*at(topsoilField), 0.15, 1.2),
		crust: l.crustM * r.plateau * (0.75 + 0.35*clamp(patch, -1, 1.5)) *
			ramp(at(crustShareField)+0.5*patch+l.crustShift, -0.5, 0.5),
		mottled: min(clamp(5+2.4*at(mottledField), 0.6, 11)*(0.8+0.3*r.plateau), 0.5*depth),
		grus:    min(clamp(4+1.6*at(grusField), 0.8, 8), 0.35*depth),
		broken:  clamp(5+2.2*at(fracturedField), 1, 12),
	}
	out.saprolite = max(depth-out.crust-out.mottled-out.grus, 0.4)
	out.erode(coverM)
	return out
}

// erode takes off the top what rivers and the sea took before they laid down as much of
// their own; the lower half of the saprolite stays.
func (p *profile) erode(coverM float64) {
	take := func(thick *float64, least float64) {
		cut := min(max(*thick-least, 0), coverM)
		*thick, coverM = *thick-cut, coverM-cut
	}
	take(&p.crust, 0)
	take(&p.mottled, 0)
	take(&p.saprolite, p.saprolite/2)
}

// thickM is how much of the profile water can stand in: all of it, fresh rock left out.
func (p profile) thickM() float64 {
	return p.crust + p.mottled + p.saprolite + p.grus + p.broken
}

func (s *stack) layProfile(p profile) {
	s.lay(Crust, p.crust)
	s.lay(MottledClay, p.mottled)
	s.lay(Saprolite, p.saprolite)
	s.lay(Grus, p.grus)
	s.lay(BrokenRock, p.broken)
	s.layTo(FreshRock, ColumnM)
}
