package coord_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"waterstrike/geo/coord"
)

func TestReadLonLat(t *testing.T) {
	r, err := coord.ReadLonLat("0.5000 W", `60°30'00"N`)
	if err != nil {
		t.Fatal(err)
	}
	if r.Pos != (coord.LonLat{Lon: -0.5, Lat: 60.5}) || r.CRS != "WGS 84" || r.Operation != "" || r.AsRead != `0.5000 W 60°30'00"N` {
		t.Errorf("%+v", r)
	}
	near(t, "precision", r.PrecisionM, 0.5/3600*111320, 1e-9) // the latitude's half second is the coarser

	// Arc 1950 at the reference point of EPSG:1113 (PROJ 9.1.1).
	r, err = coord.ReadLonLatOn(coord.Arc1950, "28.2833", "-15.4167")
	if err != nil {
		t.Fatal(err)
	}
	if d := coord.DistanceM(r.Pos, coord.LonLat{Lon: 28.283192885996, Lat: -15.418052192273}); d > 1e-4 {
		t.Errorf("%g m off", d)
	}
	if r.Operation != "EPSG:1113 Arc 1950 to WGS 84 (1)" || r.CRS != "Arc 1950" {
		t.Errorf("%+v", r)
	}
	near(t, "precision", r.PrecisionM, 44+0.00005*111320, 1e-6) // EPSG states 44 m for 1113
}

func TestReadLonLatNamesThePart(t *testing.T) {
	for part, texts := range map[coord.Part][2]string{
		coord.PartLongitude: {"x", "5"},
		coord.PartLatitude:  {"5", "x"},
	} {
		_, err := coord.ReadLonLat(texts[0], texts[1])
		var re *coord.ReadError
		if !errors.As(err, &re) || re.Part != part {
			t.Errorf("want %s, got %v", part, err)
		}
	}
}

func TestReadProjected(t *testing.T) {
	// lilongwe_36S of utm_wgs84.csv (PROJ 9.1.1).
	want := coord.LonLat{Lon: 33.7741, Lat: -13.9626}
	for _, text := range [][2]string{
		{"583611.425885", "8456273.650635"},
		{"583 611,425885", "8 456 273,650635 m"},
		{"583611.425885 mE", "8456273.650635 mN"},
		{"583\u00a0611.425885 E", "8456273.650635 N"},
	} {
		r, err := coord.ReadProjected(text[0], text[1], grid(t, "36S"))
		if err != nil {
			t.Fatal(err)
		}
		if d := coord.DistanceM(r.Pos, want); d > 1e-3 {
			t.Errorf("%v: %g m off", text, d)
		}
	}
	r, err := coord.ReadProjected("600000", "8450000", grid(t, "EPSG:20936"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "precision", r.PrecisionM, 44.5, 0)
	if r.CRS != "Arc 1950 / UTM zone 36S" || r.Operation == "" {
		t.Errorf("%+v", r)
	}
}

func TestReadProjectedRefuses(t *testing.T) {
	tests := []struct {
		east, north string
		want        coord.Code
	}{
		{"", "777230", coord.Empty},
		{"442797", " ", coord.Empty},
		{"442797", "777,230", coord.Ambiguous},
		{"442.797", "777230", coord.Ambiguous},
		{"442797", "8.456.273", coord.Unreadable},
		{"44 2797", "777230", coord.Unreadable},
		{"4e5", "777230", coord.Unreadable},
		{"442797 ft", "777230", coord.Unreadable},
		{"9442797", "777230", coord.OutOfRange},
		{"442797", "98777230", coord.OutOfRange},
		{"44279", "777230", coord.OutOfRange}, // a digit lost: 44 km lies outside every zone
		{"942797", "777230", coord.OutOfRange},
		{"442797", "-777230", coord.OutOfRange},
	}
	for _, tt := range tests {
		t.Run(tt.east+" "+tt.north, func(t *testing.T) {
			r, err := coord.ReadProjected(tt.east, tt.north, grid(t, "37N"))
			wantCode(t, r, err, tt.want)
		})
	}
}

func TestParseProjection(t *testing.T) {
	tests := []struct {
		text, want string
		epsg       int
	}{
		{"EPSG:32637", "WGS 84 / UTM zone 37N", 32637},
		{"32637", "WGS 84 / UTM zone 37N", 32637},
		{"urn:ogc:def:crs:EPSG::32736", "WGS 84 / UTM zone 36S", 32736},
		{"UTM 37N", "WGS 84 / UTM zone 37N", 32637},
		{"utm zone 1 s", "WGS 84 / UTM zone 1S", 32701},
		{"WGS 84 / UTM zone 37N", "WGS 84 / UTM zone 37N", 32637},
		{"WGS84 UTM37N", "WGS 84 / UTM zone 37N", 32637},
		{"UTM 36 South (WGS-84)", "WGS 84 / UTM zone 36S", 32736},
		{"UTM fuseau 30 Nord", "WGS 84 / UTM zone 30N", 32630},
		{"UTM fuso 36 Sul", "WGS 84 / UTM zone 36S", 32736},
		{"36L", "WGS 84 / UTM zone 36S", 32736},
		{"37P", "WGS 84 / UTM zone 37N", 32637},
		{"Arc 1950 / UTM zone 36S", "Arc 1950 / UTM zone 36S", 20936},
		{"EPSG:20935", "Arc 1950 / UTM zone 35S", 20935},
		{"Arc1960 UTM 37S", "Arc 1960 / UTM zone 37S", 21037},
		{"EPSG:21096", "Arc 1960 / UTM zone 36N", 21096},
		{"Adindan UTM 37N", "Adindan / UTM zone 37N", 20137},
		{"EPSG:26332", "Minna / UTM zone 32N", 26332},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			c := grid(t, tt.text)
			if code, ok := c.EPSG(); c.String() != tt.want || !ok || code != tt.epsg {
				t.Errorf("%v, %d", c, code)
			}
		})
	}
}

func TestParseProjectionRefuses(t *testing.T) {
	for text, want := range map[string]coord.Code{
		"":             coord.Empty,
		"UTM":          coord.Unreadable,
		"UTM 37":       coord.NoHemisphere,
		"UTM 61N":      coord.OutOfRange,
		"UTM 0N":       coord.OutOfRange,
		"37I":          coord.Unreadable,
		"37Z":          coord.Unreadable,
		"EPSG:4326":    coord.Unsupported,
		"EPSG:20937":   coord.Unsupported, // EPSG has no Arc 1950 zone 37
		"Lambert 37N":  coord.Unreadable,
		"UTM 37N 442":  coord.Unreadable,
		"UTM -37N 1 2": coord.Unreadable,
	} {
		c, err := coord.ParseProjection(text)
		wantCode(t, c, err, want)
	}
}

func TestParseDatum(t *testing.T) {
	for _, d := range coord.Datums() {
		for _, text := range []string{d.String(), fmt.Sprintf("EPSG:%d", d.EPSG())} {
			if got, err := coord.ParseDatum(text); err != nil || got != d {
				t.Errorf("%q: %v, %v", text, got, err)
			}
		}
	}
	d, err := coord.ParseDatum("Arc")
	wantCode(t, d, err, coord.Unreadable)
	d, err = coord.ParseDatum("EPSG:4267")
	wantCode(t, d, err, coord.Unsupported)
}

func TestDefaultOperations(t *testing.T) {
	for d, want := range map[coord.Datum]int{coord.WGS84: 0, coord.Arc1950: 1113, coord.Arc1960: 1122, coord.Adindan: 1100, coord.Minna: 1168} {
		if got := d.DefaultOperation(); got.EPSG != want {
			t.Errorf("%v: %v", d, got)
		}
	}
	if _, err := grid(t, "Arc 1950 UTM 36S").WithOperation(1100); err == nil {
		t.Error("an Adindan operation went through for Arc 1950")
	}
	if _, err := coord.OperationByCode(1); err == nil {
		t.Error("operation 1 exists")
	}
}

// FuzzReadProjected: what is read lies on the globe and writes back to the
// same metres.
func FuzzReadProjected(f *testing.F) {
	f.Add("442797", "777230", "37N")
	f.Add("583 611,4", "8 456 273.65 m", "Arc 1950 / UTM zone 36S")
	f.Add("-1", "+0", "EPSG:20137")
	f.Fuzz(func(t *testing.T, east, north, crs string) {
		c, err := coord.ParseProjection(crs)
		if err != nil {
			return
		}
		if again := grid(t, c.String()); again != c {
			t.Fatalf("%v reads back as %v", c, again)
		}
		r, err := coord.ReadProjected(east, north, c)
		if err != nil {
			return
		}
		if !r.Pos.Valid() || !(r.PrecisionM > 0) {
			t.Fatalf("%+v", r)
		}
		q, _, err := c.Project(r.Pos)
		if err != nil {
			return // at the rim of the domain
		}
		again, err := coord.ReadProjected(fmt.Sprintf("%.6f", q.EastingM), fmt.Sprintf("%.6f", q.NorthingM), c)
		if err != nil || coord.DistanceM(again.Pos, r.Pos) > 1e-5 {
			t.Fatalf("%v, %v; want %v", again.Pos, err, r.Pos)
		}
	})
}

func TestNewLonLat(t *testing.T) {
	if p, err := coord.NewLonLat(180, -90); err != nil || p.Point() != [2]float64{180, -90} {
		t.Errorf("%v, %v", p, err)
	}
	for _, p := range [][2]float64{{181, 0}, {0, 90.1}, {math.NaN(), 0}, {0, math.NaN()}, {math.Inf(1), 0}} {
		if _, err := coord.NewLonLat(p[0], p[1]); !errors.Is(err, coord.ErrPosition) {
			t.Errorf("%v: %v", p, err)
		}
	}
}
