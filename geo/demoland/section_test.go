package demoland_test

import (
	"math"
	"testing"

	"waterstrike/geo/demoland"
)

func TestSectionShowsItsColumns(t *testing.T) {
	l := lands()[0]
	sites := l.UniformSites(2, 12)
	const n = 200
	s := l.Section(sites[0], sites[1], n)
	if len(s.AlongM) != n || len(s.GroundM) != n || len(s.NormalLowM) != n || len(s.Settings) != n {
		t.Fatalf("%d stations, want %d", len(s.AlongM), n)
	}
	c := l.Column(sites[0])
	if math.Abs(s.GroundM[0]-c.GroundM) > 1e-6 || math.Abs(s.GroundM[0]-s.NormalLowM[0]-c.NormalLowM) > 1e-6 {
		t.Errorf("first station: ground %v, water %v; the column has %v and %v", s.GroundM[0], s.NormalLowM[0], c.GroundM, c.NormalLowM)
	}
	top := math.Inf(-1)
	for _, g := range s.GroundM {
		top = max(top, g)
	}
	for _, b := range s.Bands {
		checkBand(t, b, s.AlongM[n-1], top)
	}
}

func checkBand(t *testing.T, b demoland.Band, lengthM, topM float64) {
	t.Helper()
	if len(b.Outline) < 3 {
		t.Errorf("%s: outline of %d corners", b.Unit, len(b.Outline))
	}
	for _, c := range b.Outline {
		if c.AlongM < 0 || c.AlongM > lengthM || c.ElevationM > topM {
			t.Errorf("%s: corner %v lies outside the section", b.Unit, c)
		}
	}
}

// Painted in their order, the bands give back the unit that a column has at any depth.
func TestSectionBandsPaintTheColumns(t *testing.T) {
	l := lands()[1]
	sites := l.VillageSites(2, 3)
	s := l.Section(sites[0], sites[1], 60)
	c := l.Column(sites[0])
	for depth := 0.3; depth < 40; depth++ {
		var painted demoland.Unit
		for _, b := range s.Bands {
			first, last := b.Outline[0], b.Outline[len(b.Outline)-1]
			if first.AlongM == 0 && last.AlongM == 0 && c.GroundM-depth < first.ElevationM && c.GroundM-depth >= last.ElevationM {
				painted = b.Unit
			}
		}
		if want := c.LayerAt(depth).Unit; painted != want {
			t.Errorf("at %v m: painted %s, column has %s", depth, painted, want)
		}
	}
}
