package draw

// Profile plots up to 4 lines by depth: X of each point is a value, Y a depth, which
// runs downwards. The dashes and markers are those of [Curves]; the names stand in a
// legend.
//
//   - Units: those of the labels.
//   - Errors: more than 4 lines, values that are not finite, no room.
func Profile(curves []Curve, o PlotOptions) (Scene, error) {
	o = o.defaults()
	area, err := curvesExtent(curves)
	if err != nil {
		return Scene{}, err
	}
	if area == noExtent() {
		return o.nothing()
	}
	p, err := o.newPlot(o.reach(area), curveEntries(curves), 0)
	if err != nil {
		return Scene{}, err
	}
	p.y.fromMM, p.y.toMM = p.y.toMM, p.y.fromMM
	return p.scene(p.curves(curves)), nil
}
