package evidence

import (
	"sync"

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
	next.land = nil
	if land != nil {
		next.land = &known{Land: land}
	}
	return &next
}

// known is a land that remembers how it lies about the bores that were asked for: every
// answer asks for those around it again.
type known struct {
	Land
	settings sync.Map // geo.BoreID to setting
}

// setting is what is remembered of a bore, with where it stood.
type setting struct {
	at coord.LonLat
	terrain.Setting
}

// SettingOf returns the shape of the land at a bore.
func (s *Snapshot) SettingOf(b *Bore) terrain.Setting {
	if s.land == nil {
		return terrain.Setting{}
	}
	if was, ok := s.land.settings.Load(b.ID); ok && was.(setting).at == b.Pos {
		return was.(setting).Setting
	}
	now := setting{b.Pos, s.land.At(b.Pos)}
	s.land.settings.Store(b.ID, now)
	return now.Setting
}

// Setting returns the shape of the land at a place; all of it is missing where none is
// known.
func (s *Snapshot) Setting(p coord.LonLat) terrain.Setting {
	if s.land == nil {
		return terrain.Setting{}
	}
	return s.land.At(p)
}
