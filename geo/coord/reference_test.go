package coord_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"waterstrike/geo/coord"
)

// row is one line of a reference table, by column name.
type row map[string]string

func (r row) num(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

func (r row) lonLat(t *testing.T, lon, lat string) coord.LonLat {
	t.Helper()
	return coord.LonLat{Lon: r.num(t, lon), Lat: r.num(t, lat)}
}

// reference reads testdata/reference/proj/name; the tables' origin (PROJ 9.1.1,
// GeographicLib 2.1.2) stands in testdata/reference/README.md.
func reference(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "proj", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in := csv.NewReader(f)
	in.FieldsPerRecord = -1 // GeographicLib's refusal of one point is kept as printed
	lines, err := in.ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatalf("%s: %d lines, %v", name, len(lines), err)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, column := range lines[0][:min(len(line), len(lines[0]))] {
			r[column] = line[i]
		}
		rows = append(rows, r)
	}
	return rows
}

func grid(t *testing.T, text string) coord.Projection {
	t.Helper()
	c, err := coord.ParseProjection(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (tolerance %g)", what, got, want, tol)
	}
}

// PROJ 9.1.1, cs2cs.
func TestUTMReference(t *testing.T) {
	const tol = 1e-6 // metres: the printed digits; the requirement is 1 mm
	for _, r := range reference(t, "utm_wgs84.csv") {
		t.Run(r["tag"], func(t *testing.T) {
			c := grid(t, "EPSG:"+r["epsg"])
			p := r.lonLat(t, "lon", "lat")
			q, _, err := c.Project(p)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "easting", q.EastingM, r.num(t, "easting"), tol)
			near(t, "northing", q.NorthingM, r.num(t, "northing"), tol)
			back, _, err := coord.Projected{CRS: c, EastingM: r.num(t, "easting"), NorthingM: r.num(t, "northing")}.LonLat()
			if err != nil {
				t.Fatal(err)
			}
			if d := coord.DistanceM(back, r.lonLat(t, "lon_back", "lat_back")); d > tol {
				t.Errorf("inverse is %g m off", d)
			}
		})
	}
}

// PROJ 9.1.1 (proj -S) and GeographicLib 2.1.2 (GeoConvert -c), both at their
// printed digits.
func TestUTMFactors(t *testing.T) {
	check := func(t *testing.T, c coord.Projection, p coord.LonLat, conv, scale, tolConv, tolScale float64) {
		t.Helper()
		_, f, err := c.Project(p)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "convergence", f.ConvergenceDeg, conv, tolConv)
		near(t, "scale", f.Scale, scale, tolScale)
	}
	for _, r := range reference(t, "utm_factors.csv") {
		// PROJ differentiates numerically: both are off by some 6e-10, as the second
		// table shows.
		check(t, grid(t, "EPSG:"+r["epsg"]), r.lonLat(t, "lon", "lat"), r.num(t, "meridian_convergence_deg"), r.num(t, "scale"), 1e-9, 1e-9)
	}
	for _, r := range reference(t, "utm_geographiclib.csv") {
		if r["gl_easting"] == "Latitude" {
			continue // GeographicLib refuses a point that far from the zone
		}
		check(t, grid(t, r["zone"]), r.lonLat(t, "lon", "lat"), r.num(t, "gl_convergence_deg"), r.num(t, "gl_scale"), 1e-11, 1e-13)
	}
}

// PROJ 9.1.1, cct with the explicit pipeline of each EPSG operation.
func TestDatumReference(t *testing.T) {
	const tol = 1e-5 // metres; the requirement is 5 mm
	for _, r := range reference(t, "datum_to_wgs84.csv") {
		t.Run(r["op_name"], func(t *testing.T) {
			op, err := coord.OperationByCode(int(r.num(t, "op_epsg")))
			if err != nil {
				t.Fatal(err)
			}
			if op.Name != r["op_name"] {
				t.Errorf("name %q", op.Name)
			}
			got := op.ToWGS84(r.lonLat(t, "lon_src", "lat_src"))
			if d := coord.DistanceM(got, r.lonLat(t, "lon_wgs84", "lat_wgs84")); d > tol {
				t.Errorf("%v is %g m off", got, d)
			}
			if d := coord.DistanceM(op.FromWGS84(got), r.lonLat(t, "lon_src", "lat_src")); d > tol {
				t.Errorf("back again %g m off", d)
			}
		})
	}
}

// PROJ 9.1.1, cs2cs with the operation it chose at each point: the one with
// distance 0 in its own list of candidates.
func TestLocalGridReference(t *testing.T) {
	const tol = 1e-4 // metres; the requirement is 5 mm
	chosen := map[string]int{"20936": 1117, "20935": 1120, "20136": 1106, "20137": 1103, "26332": 1168, "21037": 1284}
	for _, r := range reference(t, "local_projected_to_wgs84.csv") {
		t.Run(r["name"], func(t *testing.T) {
			c, err := grid(t, "EPSG:"+r["src_epsg"]).WithOperation(chosen[r["src_epsg"]])
			if err != nil {
				t.Fatal(err)
			}
			got, _, err := coord.Projected{CRS: c, EastingM: r.num(t, "easting"), NorthingM: r.num(t, "northing")}.LonLat()
			if err != nil {
				t.Fatal(err)
			}
			if d := coord.DistanceM(got, r.lonLat(t, "lon_wgs84", "lat_wgs84")); d > tol {
				t.Errorf("%v is %g m off", got, d)
			}
			if by := grid(t, r["name"]); by.String() != grid(t, "EPSG:"+r["src_epsg"]).String() {
				t.Errorf("by name: %v", by)
			}
		})
	}
}

// GeodSolve of GeographicLib 2.1.2 and geod of PROJ 9.1.1.
func TestGeodesicReference(t *testing.T) {
	const tol = 1e-6 // metres: the printed digits; the requirement is 1 mm
	for _, r := range reference(t, "geodesic.csv") {
		a, b := r.lonLat(t, "lon1", "lat1"), r.lonLat(t, "lon2", "lat2")
		near(t, "distance", coord.DistanceM(a, b), r.num(t, "geodsolve_m"), tol)
		near(t, "distance back", coord.DistanceM(b, a), r.num(t, "geodsolve_m"), tol)
		near(t, "bearing", math.Remainder(coord.BearingDeg(a, b)-r.num(t, "geod_az12"), 360), 0, 1e-9)
		near(t, "bearing back", math.Remainder(coord.BearingDeg(b, a)-r.num(t, "geod_az21"), 360), 0, 1e-9)
	}
}

// The parameters in the reference table were printed from the EPSG dataset.
func TestOperationParameters(t *testing.T) {
	number := regexp.MustCompile(`(\w+)=(-?[\d.]+)`)
	for _, r := range reference(t, "datum_to_wgs84.csv") {
		op, err := coord.OperationByCode(int(r.num(t, "op_epsg")))
		if err != nil {
			t.Fatal(err)
		}
		have := map[string]float64{
			"x": op.Shift.DXM, "y": op.Shift.DYM, "z": op.Shift.DZM,
			"rx": op.Shift.RXSec, "ry": op.Shift.RYSec, "rz": op.Shift.RZSec, "s": op.Shift.ScalePPM,
		}
		for _, m := range number.FindAllStringSubmatch(r["towgs84_dx_dy_dz"], -1) {
			want, _ := strconv.ParseFloat(m[2], 64)
			near(t, r["op_name"]+" "+m[1], have[m[1]], want, 0)
		}
	}
}
