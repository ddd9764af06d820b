package coord_test

import (
	"errors"
	"fmt"
	"testing"

	"waterstrike/geo/coord"
)

func TestReadPair(t *testing.T) {
	const any, latLon, lonLat = coord.UnknownOrder, coord.LatLonOrder, coord.LonLatOrder
	want := coord.LonLat{Lon: -0.5, Lat: 5.5}
	tests := []struct {
		text  string
		order coord.Order
		want  coord.LonLat
	}{
		{"5.5 N, 0.5 W", any, want},
		{"5.5N 0.5W", any, want},
		{"5.5N0.5W", any, want},
		{"0.5 O; 5,5 N", any, want},
		{"5,5 N 0,5 O", any, want},
		{"5,5 N, 0,5 O", any, want},
		{"N5.5 W0.5", any, want},
		{"5°30'N,0°30'W", any, want},
		{"5°30'N 0°30'W", any, want},
		{`5°30'00" N / 0°30'00" W`, any, want},
		{"N 5 30 00 W 0 30 00", any, want},
		{"5 30 N 0 30 W", any, want},
		{"5d30m0sN 0d30m0sW", any, want},
		{"5.5 N, -0.5", any, want},
		{"5.5, -0.5", latLon, want},
		{"5.5,-0.5", latLon, want},
		{"5,5 -0,5", latLon, want},
		{"5,5;-0,5", latLon, want},
		{"5.5 -0.5", latLon, want},
		{"5.5-0.5", latLon, want},
		{"-0.5 5.5", lonLat, want},
		{"5 30 N, 0 30 W", lonLat, want}, // letters outrank the order
		{"-1.5, 136.5", any, coord.LonLat{Lon: 136.5, Lat: -1.5}},
		{"136.5,-1.5", any, coord.LonLat{Lon: 136.5, Lat: -1.5}},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			r, err := coord.ReadPair(tt.text, tt.order)
			if err != nil || r.Pos != tt.want {
				t.Fatalf("%+v, %v", r.Pos, err)
			}
			if r.AsRead != tt.text {
				t.Errorf("as read: %q", r.AsRead)
			}
		})
	}
}

func TestReadPairZoned(t *testing.T) {
	// addis_37N and lilongwe_36S of utm_wgs84.csv (PROJ 9.1.1).
	addis, lilongwe := coord.LonLat{Lon: 38.7578, Lat: 9.0249}, coord.LonLat{Lon: 33.7741, Lat: -13.9626}
	for text, want := range map[string]coord.LonLat{
		"37N 473380.579 997613.879":           addis,
		"37 N 473380.579 997613.879":          addis,
		"37P 473380.579 997613.879":           addis,
		"UTM zone 37N 473380.579, 997613.879": addis,
		"37n 473380.579mE 997613.879mN":       addis,
		"WGS84 37N 473380.579 997613.879":     addis,
		"36S 583611.426 8456273.651":          lilongwe,
		"36L 583611.426 8456273.651":          lilongwe,
	} {
		r, err := coord.ReadPair(text, coord.UnknownOrder)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if d := coord.DistanceM(r.Pos, want); d > 2e-3 { // printed to 1 mm in each direction
			t.Errorf("%q: %g m off", text, d)
		}
	}
	r, err := coord.ReadPair("Arc 1950 36S 600000 8450000", coord.UnknownOrder)
	if err != nil || r.CRS != "Arc 1950 / UTM zone 36S" {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestReadPairRefuses(t *testing.T) {
	for text, want := range map[string]coord.Code{
		"":                   coord.Empty,
		"5.5 0.5":            coord.Ambiguous,
		"5 30 0 30":          coord.Ambiguous,
		"12,36":              coord.Ambiguous,
		"5.5":                coord.Unreadable,
		"5,5,0,5":            coord.Ambiguous,
		"5.5 N 6.5 N":        coord.Unreadable,
		"5.5 N, 190 E":       coord.OutOfRange,
		"95 N 200 E":         coord.OutOfRange,
		"200 E, a":           coord.Unreadable,
		"a, b":               coord.Unreadable,
		"37M 473380 997613":  coord.Contradicts, // band M lies south of the equator
		"37Q 473380 997613":  coord.Contradicts, // band Q begins at 16 north
		"36S 500000 3800000": coord.Ambiguous,   // 34.3 north in band S, or 55.9 south
		"61N 473380 997613":  coord.OutOfRange,
		"37I 473380 997613":  coord.Unreadable,
		"37N 473380 997.613": coord.Ambiguous,
		"37N 9473380 997613": coord.OutOfRange,
	} {
		t.Run(text, func(t *testing.T) {
			r, err := coord.ReadPair(text, coord.UnknownOrder)
			wantCode(t, r, err, want)
		})
	}
}

// FuzzReadPair: what is read is valid, and reads the same when written again
// with letters in either order.
func FuzzReadPair(f *testing.F) {
	for _, s := range []string{"5.5 N, 0.5 W", "5,5 0,5", "N 5 30 W 0 30", "37N 442797 777230", "36S 500000 3800000", "5.5-0.5", "°;°", "5d30m0sN 1"} {
		f.Add(s, 0)
		f.Add(s, 1)
	}
	f.Fuzz(func(t *testing.T, text string, order int) {
		r, err := coord.ReadPair(text, coord.Order(order))
		if err != nil {
			var re *coord.ReadError
			if !errors.As(err, &re) {
				t.Fatal(err)
			}
			return
		}
		if !r.Pos.Valid() || !(r.PrecisionM > 0) {
			t.Fatalf("%+v", r)
		}
		lat, lon := lettered(r.Pos.Lat, "N", "S"), lettered(r.Pos.Lon, "E", "W")
		for _, again := range []string{lat + " " + lon, lon + ", " + lat} {
			back, err := coord.ReadPair(again, coord.UnknownOrder)
			if err != nil || coord.DistanceM(back.Pos, r.Pos) > 1e-6 {
				t.Fatalf("%q: %v, %v", again, back.Pos, err)
			}
		}
	})
}

func lettered(deg float64, positive, negative string) string {
	if deg < 0 {
		return fmt.Sprintf("%.14f %s", -deg, negative)
	}
	return fmt.Sprintf("%.14f %s", deg, positive)
}
