// Package index finds entries by place: the nearest ones in order of true
// distance on the ellipsoid, those within a radius, those in a box.
//
// An [Index] never changes. [Index.With] makes a new one that shares what did
// not change; readers of the old one are not disturbed. Equal distances come in
// order of ID, so an answer does not depend on how the index was built.
//
// Inside, an R-tree holds boxes of longitude and parametric latitude in 32-bit
// floats rounded outward. It only proposes: a box's distance is a lower bound of
// the true one (see bound), and the positions themselves decide.
package index
