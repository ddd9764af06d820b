package welldesign_test

import (
	"strings"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// What cannot stand together in one finished bore is said, each by a name of its own.
func TestReviewOfWhatCannotStandTogether(t *testing.T) {
	site := welldesign.Site{Layers: column(soil.Clay, 4.0, soil.Medium, 12.0), Water: water(4, 5, 6)}
	k := kit(t, "percussion")
	sound := built(site, designed(t, site, k))
	if got := codes(welldesign.Review(sound, geo.Some(site.Water), k.Rules)); got != "" {
		t.Fatalf("the sound bore: %s", got)
	}
	screen := sound.Pipes[1]
	for _, tt := range []struct {
		want geo.Code
		do   func(b *geo.Bore)
	}{
		{"asbuilt.screen-sealed", func(b *geo.Bore) { b.Fills[0].BaseM = screen.TopM + 1 }},
		{"asbuilt.fill-under-bottom", func(b *geo.Bore) { b.Fills[len(b.Fills)-1].BaseM = 30 }},
		{"asbuilt.wider-below", func(b *geo.Bore) { b.Pipes[1].DiameterMM = geo.Some(b.Pipes[0].DiameterMM.Or(0) + 50) }},
		{"asbuilt.slots-let-pack", func(b *geo.Bore) { b.Pipes[1].SlotMM = geo.Some(50.0) }},
		{"asbuilt.pumped-below", func(b *geo.Bore) { b.Tests[0].PumpingM = geo.Some(screen.BaseM + 1) }},
	} {
		b := sound
		b.Pipes = append([]geo.Pipe(nil), sound.Pipes...)
		b.Fills = append([]geo.Fill(nil), sound.Fills...)
		b.Tests = append([]geo.PumpTest(nil), sound.Tests...)
		tt.do(&b)
		if got := codes(welldesign.Review(b, geo.Some(site.Water), k.Rules)); !strings.Contains(got, string(tt.want)) {
			t.Errorf("%s is not said: %s", tt.want, got)
		}
	}
}
