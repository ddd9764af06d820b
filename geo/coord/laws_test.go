package coord_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waterstrike/geo/coord"
)

func anywhere(t *rapid.T, label string) coord.LonLat {
	return coord.LonLat{
		Lon: rapid.Float64Range(-180, 180).Draw(t, label+" lon"),
		Lat: rapid.Float64Range(-90, 90).Draw(t, label+" lat"),
	}
}

// A metric is symmetric, zero only at itself, and obeys the triangle
// inequality; no geodesic is longer than the meridian half circle, 20,003,931.46 m
// (Karney 2013, section 2).
func TestDistanceLaws(t *testing.T) {
	const tol = 1e-6 // metres: the accuracy claimed
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := anywhere(t, "a"), anywhere(t, "b"), anywhere(t, "c")
		ab := coord.DistanceM(a, b)
		if !(ab >= 0 && ab <= 20003931.4587) {
			t.Fatalf("distance %v", ab)
		}
		if back := coord.DistanceM(b, a); math.Abs(ab-back) > tol {
			t.Fatalf("%v there, %v back", ab, back)
		}
		if d := coord.DistanceM(a, a); d != 0 {
			t.Fatalf("%v from itself", d)
		}
		if via := coord.DistanceM(a, c) + coord.DistanceM(c, b); ab > via+tol {
			t.Fatalf("%v directly, %v by a third point", ab, via)
		}
		shifted := coord.DistanceM(coord.LonLat{Lon: math.Remainder(a.Lon+77, 360), Lat: -a.Lat}, coord.LonLat{Lon: math.Remainder(b.Lon+77, 360), Lat: -b.Lat})
		if math.Abs(shifted-ab) > tol {
			t.Fatalf("%v, but %v turned and mirrored", ab, shifted)
		}
	})
}

// Nearly antipodal pairs: the line is not longer than by way of any third point
// on it, so reaching half way and on must add up.
func TestNearlyAntipodal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anywhere(t, "a")
		b := coord.LonLat{
			Lon: math.Remainder(a.Lon+180+rapid.Float64Range(-1, 1).Draw(t, "off lon"), 360),
			Lat: max(-90, min(90, -a.Lat+rapid.Float64Range(-1, 1).Draw(t, "off lat"))),
		}
		whole := coord.DistanceM(a, b)
		back := coord.DistanceM(b, a)
		if math.Abs(whole-back) > 1e-6 {
			t.Fatalf("%v there, %v back", whole, back)
		}
		az := coord.BearingDeg(a, b) * math.Pi / 180
		mid := coord.NewPlane(a).LonLat(coord.XY{X: whole / 2 * math.Sin(az), Y: whole / 2 * math.Cos(az)})
		if rest := coord.DistanceM(mid, b); math.Abs(rest-whole/2) > 1e-3 {
			t.Fatalf("half of %v leaves %v", whole, rest)
		}
	})
}

func TestPlaneRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		origin, p := anywhere(t, "origin"), anywhere(t, "p")
		d := coord.DistanceM(origin, p)
		if d > 19e6 {
			return // the map of an antipode is a circle
		}
		pl := coord.NewPlane(origin)
		xy := pl.XY(p)
		if r := math.Hypot(xy.X, xy.Y); math.Abs(r-d) > 1e-6 {
			t.Fatalf("%v from the origin on the plane, %v on the ellipsoid", r, d)
		}
		back := pl.LonLat(xy)
		if off := coord.DistanceM(back, p); !back.Valid() || off > 1e-5 {
			t.Fatalf("%v comes back as %v, %g m off", p, back, off)
		}
	})
}

func TestUTMRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coord.Datum(rapid.IntRange(0, len(coord.Datums())-1).Draw(t, "datum"))
		c := coord.Projection{Datum: d, Zone: rapid.IntRange(1, 60).Draw(t, "zone"), South: rapid.Bool().Draw(t, "south")}
		p := coord.LonLat{
			Lon: math.Remainder(float64(c.Zone*6-183)+rapid.Float64Range(-9, 9).Draw(t, "lon"), 360),
			Lat: rapid.Float64Range(-80, 84).Draw(t, "lat"),
		}
		q, f, err := c.Project(p)
		if err != nil {
			t.Fatal(err)
		}
		if !(f.Scale > 0.999 && f.Scale < 1.02) {
			t.Fatalf("scale %v", f.Scale)
		}
		back, _, err := q.LonLat()
		if err != nil {
			t.Fatal(err)
		}
		if off := coord.DistanceM(p, back); off > 1e-6 {
			t.Fatalf("%v comes back as %v, %g m off", p, back, off)
		}
	})
}

func TestDatumRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coord.Datums()[rapid.IntRange(1, 4).Draw(t, "datum")]
		ops := d.Operations()
		op := ops[rapid.IntRange(0, len(ops)-1).Draw(t, "operation")]
		p := coord.LonLat{Lon: rapid.Float64Range(-180, 180).Draw(t, "lon"), Lat: rapid.Float64Range(-85, 85).Draw(t, "lat")}
		if off := coord.DistanceM(op.ToWGS84(op.FromWGS84(p)), p); off > 1e-6 {
			t.Fatalf("%g m off after going there and back", off)
		}
		if moved := coord.DistanceM(op.ToWGS84(p), p); moved > 700 {
			// translations of up to 380 m and semi-axes up to 250 m apart
			t.Fatalf("the shift moved %v m", moved)
		}
	})
}

// The error of plane distances between points at radius r, against the bound
// in the doc of Plane, (r/R)²/6, at the equator, at 60 north, at the
// antimeridian and beside the pole.
func TestPlaneError(t *testing.T) {
	const earthRadiusM = 6371008.8 // mean radius, IUGG
	origins := []coord.LonLat{{Lon: 0, Lat: 0}, {Lon: 10, Lat: 60}, {Lon: 179.999, Lat: -16}, {Lon: 30, Lat: 89.9}}
	for _, origin := range origins {
		for _, radiusM := range []float64{30e3, 100e3, 300e3} {
			worst := worstPlaneError(coord.NewPlane(origin), radiusM)
			bound := math.Pow(radiusM/earthRadiusM, 2) / 6
			if worst > bound*1.02 || worst < bound/2 { // 2 %: the ellipsoid's curvature differs from the mean
				t.Errorf("%v at %v m: worst relative error %.3g, bound %.3g", origin, radiusM, worst, bound)
			}
			t.Logf("%v at %3.0f km: worst relative error %.3g (%.3g m)", origin, radiusM/1e3, worst, worst*radiusM)
		}
	}
}

// worstPlaneError compares neighbouring and distant points on a circle.
func worstPlaneError(pl coord.Plane, radiusM float64) (worst float64) {
	on := func(deg int) (coord.XY, coord.LonLat) {
		s, c := math.Sincos(float64(deg) * math.Pi / 180)
		xy := coord.XY{X: radiusM * s, Y: radiusM * c}
		return xy, pl.LonLat(xy)
	}
	for from := 0; from < 360; from += 15 {
		a, aPos := on(from)
		for _, turn := range []int{2, 45, 90, 180} {
			b, bPos := on(from + turn)
			truth := coord.DistanceM(aPos, bPos)
			worst = math.Max(worst, math.Abs(math.Hypot(a.X-b.X, a.Y-b.Y)/truth-1))
		}
	}
	return worst
}

func TestPlaneAcrossAntimeridian(t *testing.T) {
	pl := coord.NewPlane(coord.LonLat{Lon: 179.9999, Lat: 10})
	xy := pl.XY(coord.LonLat{Lon: -179.9999, Lat: 10})
	near(t, "x", xy.X, 21.927873, 1e-5) // geodesic.csv, GeodSolve
	if pl.XY(pl.Origin()) != (coord.XY{}) || pl.LonLat(coord.XY{}) != pl.Origin() {
		t.Error("the origin is not at zero")
	}
}

func TestPlaneAtPoles(t *testing.T) {
	for _, origin := range []coord.LonLat{{Lon: 1, Lat: 90}, {Lon: -30, Lat: -90}, {Lon: 1, Lat: 89.99999}} {
		for lon := -180.0; lon < 180; lon += 30 {
			p := coord.LonLat{Lon: lon, Lat: math.Copysign(88, origin.Lat)}
			pl := coord.NewPlane(origin)
			if off := coord.DistanceM(pl.LonLat(pl.XY(p)), p); off > 1e-6 {
				t.Errorf("from %v, %v comes back %g m off", origin, p, off)
			}
		}
	}
}

func TestUTMZone(t *testing.T) {
	for want, p := range map[string]coord.LonLat{
		"WGS 84 / UTM zone 1S":  {Lon: -180, Lat: -1},
		"WGS 84 / UTM zone 31N": {Lon: 0, Lat: 0},
		"WGS 84 / UTM zone 30N": {Lon: -0.0001, Lat: 0},
		"WGS 84 / UTM zone 60N": {Lon: 180, Lat: 1},
	} {
		if got := coord.UTM(p).String(); got != want {
			t.Errorf("%v: %s, want %s", p, got, want)
		}
	}
}

func TestProjectRefuses(t *testing.T) {
	c := grid(t, "31N")
	for _, p := range []coord.LonLat{{Lon: 34, Lat: 0}, {Lon: 3, Lat: 85}, {Lon: math.NaN(), Lat: 0}, {Lon: 3, Lat: math.Inf(1)}} {
		if q, _, err := c.Project(p); err == nil {
			t.Errorf("%v went through as %v", p, q)
		}
	}
	for _, q := range []coord.Projected{
		{CRS: c, EastingM: math.NaN()},
		{CRS: c, EastingM: 1e9},
		{CRS: coord.Projection{Zone: 61}, EastingM: 5e5},
		{CRS: coord.Projection{Datum: 99, Zone: 1}, EastingM: 5e5},
		{CRS: coord.Projection{Datum: coord.Minna, Zone: 31, Operation: 1113}, EastingM: 5e5},
	} {
		if p, _, err := q.LonLat(); err == nil {
			t.Errorf("%v went through as %v", q, p)
		}
	}
}
