// Package terrain reads elevation grids and works out what the shape of the land says
// about water: slope, where water flows, height above the nearest drainage and distance
// to it.
//
// A [Grid] holds the elevations of one [Frame] in memory. [Open] reads one file block by
// block, [OpenMosaic] a folder of them as one [Mosaic]: ESRI ASCII, HGT, GeoTIFF and
// lists of points on a regular grid. [Derive] makes a [Terrain] of a grid, [Prepare] does
// so for the part of a folder that a region needs and keeps the result in files beside it.
//
// Rows run from north to south, columns from west to east, and an elevation belongs to
// the middle of its cell. What is missing is said to be missing, by a second result or a
// [geo.Opt]; it is never 0 or NaN.
package terrain
