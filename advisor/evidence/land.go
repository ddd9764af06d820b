package evidence

import (
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// Land tells the shape of the land at a place, whatever bores there are.
type Land interface {
	// At returns what is known at a place.
	At(coord.LonLat) terrain.Setting
	// ID names what it was made of.
	ID() string
}

// On returns the snapshot with the shape of the land known.
func (s *Snapshot) On(land Land) *Snapshot {
	next := *s
	next.land = land
	return &next
}

// Setting returns the shape of the land at a place; all of it is missing where none is
// known.
func (s *Snapshot) Setting(p coord.LonLat) terrain.Setting {
	if s.land == nil {
		return terrain.Setting{}
	}
	return s.land.At(p)
}
