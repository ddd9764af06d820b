// Package tile cuts what a map shows into square tiles of Web Mercator (OGC 17-083r4,
// WebMercatorQuad): records and lines as vector tiles (Mapbox Vector Tile 2.1), the shape
// of the land as pictures and contours.
//
// [Bores] arranges the bores of one state by place and by date: a tile is then one run of
// a list, and so is each part of a tile, whatever the zoom. Where a tile holds more than it
// can show, the bores of each part of it are told as one, and the counts add up to all of
// them. [Places] are the villages, water points, outlines and rivers; [Relief] is the land.
package tile
