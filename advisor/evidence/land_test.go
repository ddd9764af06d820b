package evidence_test

import (
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// tilted is a land as high as it lies east, that counts how often it is asked.
type tilted struct{ asked *int }

func (t tilted) ID() string { return "tilted" }

func (t tilted) At(p coord.LonLat) terrain.Setting {
	*t.asked++
	return terrain.Setting{GroundM: geo.Some(100 * p.Lon)}
}

// The land under a bore is asked for once, and again when the bore has moved.
func TestSettingOfABore(t *testing.T) {
	src := newBase()
	src.save(geo.Bore{ID: idOf(1), Position: geo.Some(at(1, 0))})
	asked := 0
	s := load(t, src)
	if s.Setting(coord.LonLat{Lon: 1}).GroundM.Known() || s.SettingOf(s.Bores()[0]).GroundM.Known() {
		t.Error("a snapshot without a land knows one")
	}
	bare := s.ID()
	s = s.On(tilted{&asked})
	if s.ID() == bare {
		t.Error("the land does not show in the id")
	}
	for range 3 {
		if got := s.SettingOf(s.Bores()[0]).GroundM.Or(0); got != 100 {
			t.Fatalf("ground at %v m, want 100", got)
		}
	}
	if asked != 1 {
		t.Errorf("asked %d times for one bore", asked)
	}
	src.save(geo.Bore{ID: idOf(1), Position: geo.Some(at(2, 0))})
	next, err := s.Advance(t.Context(), src)
	if err != nil {
		t.Fatal(err)
	}
	if got := next.SettingOf(next.Bores()[0]).GroundM.Or(0); got != 200 {
		t.Errorf("ground at %v m after the move, want 200", got)
	}
}
