// Package level says how deep the water stands at a point at the end of the dry season,
// from rest levels, dry holes and flowing bores around it.
//
//	observed level = y - A(y) g(day) + reading error
//
// y is the dry-season low of a normal year, the one surface that is mapped; g rises from 0
// at the low to 1 at the high; A is the seasonal range. Every reading is first carried to
// the low with the uncertainty of that step as its own error, then y + c is kriged on a
// log scale. All statements are quantiles on the depth scale.
//
// The season is a stated default with a wide error until the region's repeated readings
// can tell it; reports say so.
package level
