// Package near finds the nearest of many points in a plane.
//
// A [Tree] is built once over points and never changed; a [Query] holds the working
// memory of one goroutine. [FarthestFirst] orders points so that each lies far from all
// before it, the order in which a likelihood may be built from nearest neighbours.
//
// Ties go to the point given first. The package sees coordinates and nothing else:
// bores by place, on a round earth and with identities, are the index of the records.
package near
