package season_test

import (
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Villages of one name are told apart by their district, and that is how they are listed;
// written so, the one that is meant is found.
func TestNamedWithItsDistrict(t *testing.T) {
	records, adviser := land(t)
	records.Villages = slices.Clone(records.Villages[:3])
	for i, lon := range []float64{0, 1, 2} {
		records.Villages[i].Position.Pos.Lon, records.Villages[i].Position.Pos.Lat = lon, 0
	}
	records.Villages[0].Name, records.Villages[1].Name = "Barro", "BARRO"
	records.Boundaries = nil
	for i, name := range []string{"Nord", "Sul"} {
		w := float64(i) - 0.5
		records.Boundaries = append(records.Boundaries, geo.Boundary{
			ID: geo.PlaceID(name), Name: name, Kind: season.DistrictKind, Shape: orb.MultiPolygon{{{{w, -1}, {w + 1, -1}, {w + 1, 1}, {w, 1}, {w, -1}}}},
		})
	}
	says := func(must string) string {
		w := wishes(t)
		w.Must = []string{must}
		w.Floors = []programme.Floor{{District: "Far", Villages: 1}} // refused after the names were found
		_, err := season.Choose(t.Context(), &records, adviser, w, quiet)
		if err == nil {
			t.Fatalf("%s: no error", must)
		}
		return err.Error()
	}
	if got := says("barro"); !strings.Contains(got, "season.several-villages n=2 value=barro listed-text=Barro (Nord), BARRO (Sul)") {
		t.Error(got)
	}
	for _, must := range []string{"Barro (Nord)", "barro (sul)"} {
		if got := says(must); strings.Contains(got, "village") && !strings.Contains(got, "season.must") && !strings.Contains(got, "season.floor-nowhere") {
			t.Errorf("%s: %s", must, got)
		}
	}
	if got := says("Barro (West)"); !strings.Contains(got, "season.unknown-village") {
		t.Error(got)
	}
}
