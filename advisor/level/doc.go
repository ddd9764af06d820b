// Package level says how deep the water stands at a point at the end of the dry season,
// from rest levels, dry holes and flowing bores around it.
//
//	observed level = y + e - A(y) g(day) + reading error
//
// y is the dry-season low of a normal year, the one surface that is mapped; g rises from 0
// at the low to 1 at the high; A is the seasonal range; e is how much deeper the water
// stands in that year. Every reading is first carried to y with the uncertainty of that
// step as its own error, then kriged on a scale that the readings choose, a logarithm or a
// root. All statements are quantiles on the depth scale.
//
// Season and years are stated defaults with a wide error until the region's readings tell
// them; reports say so. What readings err by alike, and how far answers miss where bores do
// not stand, is learnt too, and counted in every range.
package level
