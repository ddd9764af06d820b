package draw

// The pattern makers. Marks keep clear of the tile's edge, or cross it so that the
// next tile carries on; two marks stand staggered so that rows do not form stripes.

// staggered places a mark at two points a half tile apart.
func staggered(w, h float64, mark func(x, y float64) []Item) Tile {
	return Tile{w, h, append(mark(w/4, h/4), mark(3*w/4, 3*h/4)...)}
}

func dot(color string, x, y, r float64) Item {
	return Circle{Center: Point{x, y}, RadiusMM: r, Fill: Fill{Color: color}}
}

// dots is sand: the coarser, the larger and wider apart.
func dots(color string, pitch, r float64) Tile {
	return staggered(pitch, pitch, func(x, y float64) []Item {
		return []Item{dot(color, x, y, r)}
	})
}

// twoDots is sand whose grain was not recorded: small and large grains mixed.
func twoDots(color string) Tile {
	return Tile{2.2, 2.2, []Item{
		dot(color, 0.55, 0.55, 0.3), dot(color, 1.65, 1.65, 0.3),
		dot(color, 1.65, 0.55, 0.13), dot(color, 0.55, 1.65, 0.13),
	}}
}

// dashes is clay.
func dashes(color string) Tile {
	return staggered(4, 2, func(x, y float64) []Item {
		return []Item{segment(x-0.75, y, x+0.75, y, line(color, 0.22))}
	})
}

// dashDots is silt: between the dashes of clay and the dots of sand.
func dashDots(color string) Tile {
	return staggered(4, 2, func(x, y float64) []Item {
		return []Item{
			segment(x-0.9, y, x-0.1, y, line(color, 0.2)),
			dot(color, x+0.55, y, 0.17),
		}
	})
}

// rings is gravel.
func rings(color string) Tile {
	return staggered(3.2, 3.2, func(x, y float64) []Item {
		return []Item{Circle{Center: Point{x, y}, RadiusMM: 0.62, Stroke: line(color, 0.2)}}
	})
}

// bricks is a hard crust.
func bricks(color string) Tile {
	s := line(color, 0.2)
	return Tile{4, 3, []Item{
		segment(0, 0.75, 4, 0.75, s), segment(0, 2.25, 4, 2.25, s),
		segment(1, 0.75, 1, 2.25, s), segment(3, 0, 3, 0.75, s), segment(3, 2.25, 3, 3, s),
	}}
}

// tufts is topsoil.
func tufts(color string) Tile {
	s := line(color, 0.2)
	return staggered(3.6, 2.8, func(x, y float64) []Item {
		return []Item{
			segment(x, y-0.5, x, y+0.5, s),
			segment(x-0.5, y-0.35, x, y+0.5, s),
			segment(x+0.5, y-0.35, x, y+0.5, s),
		}
	})
}

// brokenVs is weathered rock: a V in two pieces, with a grain come loose.
func brokenVs(color string) Tile {
	s := line(color, 0.22)
	return staggered(4, 3.2, func(x, y float64) []Item {
		return []Item{
			segment(x-0.7, y-0.45, x-0.2, y+0.35, s),
			segment(x+0.2, y+0.35, x+0.7, y-0.45, s),
			dot(color, x, y-0.4, 0.15),
		}
	})
}

func plus(x, y float64, s Stroke) []Item {
	return []Item{segment(x-0.55, y, x+0.55, y, s), segment(x, y-0.55, x, y+0.55, s)}
}

// pluses is sound rock.
func pluses(color string) Tile {
	return staggered(3.2, 3.2, func(x, y float64) []Item { return plus(x, y, line(color, 0.22)) })
}

// cracks is fractured rock: the crosses of rock, cut by long slanting cracks.
func cracks(color string) Tile {
	s := line(color, 0.2)
	return Tile{5, 4, append(plus(1.1, 1, s),
		append(plus(3.9, 3, s),
			segment(2, 4, 2.6, 2.2, s), segment(2.6, 2.2, 2.3, 1.8, s), segment(2.3, 1.8, 3, 0, s))...)}
}

// hatch is ground nobody described.
func hatch(color string) Tile {
	return Tile{3, 3, []Item{segment(0, 3, 3, 0, line(color, 0.12))}}
}
