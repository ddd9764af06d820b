package strata

import "waterstrike/geo/soil"

// mistaken is how often a crew names a layer as one of its likes.
// Common practice, no source.
const mistaken = 0.05

// likes lists what crews mistake for one another: neighbours in grain size, laterite for
// gravel or stiff weathered ground, clay for the weathered rock that it came from.
var likes = [soil.Count + 1][]soil.Class{
	soil.Topsoil:       {soil.Clay, soil.Sand},
	soil.Clay:          {soil.Silt, soil.WeatheredRock},
	soil.Silt:          {soil.Clay, soil.Sand},
	soil.Sand:          {soil.Silt, soil.Gravel},
	soil.Gravel:        {soil.Sand, soil.Hardpan},
	soil.Hardpan:       {soil.Gravel, soil.WeatheredRock},
	soil.WeatheredRock: {soil.Clay, soil.FracturedRock},
	soil.FracturedRock: {soil.WeatheredRock, soil.Rock},
	soil.Rock:          {soil.FracturedRock},
}

// meant returns the odds of what a layer is that was described as a class.
func meant(class soil.Class) row {
	odds := certain(class)
	odds[class-1] -= mistaken
	for _, other := range likes[class] {
		odds[other-1] += mistaken / float64(len(likes[class]))
	}
	return odds
}

// named is the matrix to a layer described as a class, whatever lies above.
func named(class soil.Class) *matrix {
	var t matrix
	for j := range t {
		t[j] = meant(class)
	}
	return &t
}
