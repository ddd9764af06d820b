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

// meantHere returns the same of a layer where it is known what ground is found: crews take one
// kind for another that is there. The class that was described is never less likely than by
// meant, whatever others have found: a log of the very spot is believed.
//
//   - Shapes: here by cell from the surface, of any number of them.
//   - Source: Bayes' rule, bounded.
//   - Checked by: TestMeantOfWhatIsFound.
func meantHere(layer interval, here []row) row {
	odds, own := meant(layer.class), int(layer.class-1)
	var found row
	for z := layer.from; z < min(layer.to, len(here)); z++ {
		for k, p := range here[z] {
			found[k] += p * odds[k]
		}
	}
	others := 0.0
	for k, p := range found {
		if k != own {
			others += p
		}
	}
	if others+found[own] == 0 {
		return odds
	}
	slip := min(others/(others+found[own]), mistaken)
	for k := range odds {
		odds[k] = 0
		if k != own && others > 0 {
			odds[k] = slip * found[k] / others
		}
	}
	odds[own] = 1 - slip
	return odds
}

// always is the step to one row of odds, whatever lies above.
func always(odds row) *matrix {
	var t matrix
	for j := range t {
		t[j] = odds
	}
	return &t
}
