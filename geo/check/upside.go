package check

import "waterstrike/geo/soil"

// soilDeepM is how deep topsoil may begin; deeper it lies where another log starts, or in
// a log that was written from the bottom up. Common practice, no source.
const soilDeepM = 2.0

// upsideDown reports topsoil far below ground under something else, or rock at the ground,
// weathered or not, over loose soil at the bottom: ground weathers from above. Of the 1,539
// logs of three layers and more of a real floodplain, 7 have hard and 1 weathered rock so.
func (j *judge) upsideDown() {
	above := soil.Topsoil
	for _, l := range j.Layers {
		if l.Class == soil.Topsoil && above != soil.Topsoil && l.TopM > soilDeepM {
			j.say(LayersUpsideDown, metres("from", l.TopM))
			return
		}
		above = l.Class
	}
	top, bottom := j.Layers[0], j.Layers[len(j.Layers)-1]
	rock := hardness(top.Class) == hard || top.Class == soil.WeatheredRock
	if rock && hardness(bottom.Class) == loose {
		j.say(LayersUpsideDown, metres("from", bottom.TopM))
	}
}

// How hard a class is, in three steps; a crust of laterite lies over softer ground by
// nature and tells nothing.
const (
	unsaid = iota
	loose
	hard
)

func hardness(c soil.Class) int {
	switch c {
	case soil.Topsoil, soil.Clay, soil.Silt, soil.Sand, soil.Gravel:
		return loose
	case soil.FracturedRock, soil.Rock:
		return hard
	}
	return unsaid
}
