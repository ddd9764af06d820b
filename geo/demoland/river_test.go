package demoland_test

import (
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
)

// Streams fall from source to mouth and lie in the lowest ground. A few ends of
// headwaters, captured by later neighbours, may stand some metres off.
func TestRiversRunDownhill(t *testing.T) {
	for _, l := range lands() {
		up, steps := 0, 0
		for _, r := range l.Records().Rivers {
			var before float64
			for i, p := range r.Line {
				z := l.Elevation(coord.LonLat{Lon: p[0], Lat: p[1]})
				if i > 0 {
					steps++
					if z > before+0.3 {
						up++
					}
					if z > before+6 {
						t.Errorf("river %s climbs %.1f m at node %d", r.ID, z-before, i)
					}
				}
				before = z
			}
			first, last := r.Line[0], r.Line[len(r.Line)-1]
			if l.Elevation(coord.LonLat{Lon: first[0], Lat: first[1]}) <= l.Elevation(coord.LonLat{Lon: last[0], Lat: last[1]}) {
				t.Errorf("river %s has its mouth above its source", r.ID)
			}
		}
		if up*200 > steps {
			t.Errorf("%d of %d pieces of river run uphill", up, steps)
		}
	}
}

// Of some seeds the first river turned back into the sea at its mouth; every land has one all
// the same.
func TestEveryLandHasItsRiver(t *testing.T) {
	for _, seed := range []uint64{37, 115} {
		land := demoland.New(seed)
		if n := len(land.Records().Rivers); n == 0 {
			t.Errorf("land %d has no river", seed)
		}
	}
}
