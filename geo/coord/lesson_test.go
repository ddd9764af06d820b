package coord_test

import (
	"testing"

	"waterstrike/geo/coord"
)

// Two ellipsoids are called Clarke 1880, and several operations lead from one datum to
// WGS 84: which was used is kept with each position.
func TestLesson7WhichClarkeWhichOperation(t *testing.T) {
	rows := reference(t, "datum_to_wgs84.csv")
	compared := 0
	for i, r := range rows {
		op, err := coord.OperationByCode(int(r.num(t, "op_epsg")))
		if err != nil {
			t.Fatal(err)
		}
		from, want := r.lonLat(t, "lon_src", "lat_src"), r.lonLat(t, "lon_wgs84", "lat_wgs84")
		other := op
		other.Datum = map[coord.Datum]coord.Datum{
			coord.Arc1950: coord.Arc1960, coord.Arc1960: coord.Arc1950, coord.Adindan: coord.Arc1950, coord.Minna: coord.Arc1950,
		}[op.Datum]
		if d := coord.DistanceM(other.ToWGS84(from), want); d < 0.001 || d > 10 {
			t.Errorf("%s on the other Clarke 1880: %g m off, want millimetres to metres", op.Name, d)
		}
		for _, s := range rows[i+1:] {
			if s["lon_src"] != r["lon_src"] || s["datum"] != r["datum"] {
				continue
			}
			compared++
			if d := coord.DistanceM(want, s.lonLat(t, "lon_wgs84", "lat_wgs84")); d < 1 || d > 100 {
				t.Errorf("%s and %s differ by %g m", r["op_name"], s["op_name"], d)
			}
		}
	}
	if compared == 0 {
		t.Error("no point with two operations")
	}
	_, used, err := coord.Projected{CRS: grid(t, "EPSG:20936"), EastingM: 500000, NorthingM: 8400000}.LonLat()
	if err != nil || used.EPSG == 0 || used.Datum != coord.Arc1950 {
		t.Errorf("operation not kept: %+v, %v", used, err)
	}
}
