package store

import (
	"bytes"
	"encoding/hex"
	"errors"
	"math"
	"testing"

	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
)

// Blobs as other programs write them. The bytes follow OGC 12-128 clause 2.1.3 and
// OGC 06-103r4 clause 8.2, set down by hand.
func TestGeometriesOfOtherPrograms(t *testing.T) {
	for _, c := range []struct {
		name, blob string
		want       orb.Geometry
		err        error
	}{
		{"big-endian header and body", "47500000000010E6" + "00000000013FF00000000000004000000000000000", orb.Point{1, 2}, nil},
		{
			"point with an envelope", "47500003E6100000" + "000000000000F03F000000000000F03F00000000000000400000000000000040" +
				"0101000000000000000000F03F0000000000000040", orb.Point{1, 2}, nil,
		},
		{"empty point by its flag", "47500011E6100000" + "0101000000000000000000F87F000000000000F87F", nil, nil},
		{"another reference system", "475000010F690000" + "0101000000000000000000F03F0000000000000040", nil, errGeometry},
		{"an extended geometry", "47500021E6100000" + "0101000000000000000000F03F0000000000000040", nil, errGeometry},
		{"an envelope code of no meaning", "4750000BE6100000" + "0101000000000000000000F03F0000000000000040", nil, errGeometry},
		{"a header cut short", "475000", nil, errGeometry},
		{"plain WKB", "0101000000000000000000F03F0000000000000040", nil, errGeometry},
	} {
		blob, err := hex.DecodeString(c.blob)
		if err != nil {
			t.Fatal(err)
		}
		got, err := decodeGeometry(blob)
		if !errors.Is(err, c.err) || got != c.want {
			t.Errorf("%s: %v, %v", c.name, got, err)
		}
	}
}

// The note under table "bit layout": an empty point has NaN for each coordinate.
func TestEmptyPointIsMissing(t *testing.T) {
	blob, err := encodeGeometry(orb.Point{math.NaN(), math.NaN()}, false)
	if err != nil {
		t.Fatal(err)
	}
	var r coord.Reading
	if err := position().set(&r, blob); !errors.Is(err, errMissing) {
		t.Errorf("an empty point was read as %v (%v)", r, err)
	}
}

func FuzzGeometry(f *testing.F) {
	for _, g := range []orb.Geometry{
		orb.Point{1, 2},
		orb.LineString{{0, 0}, {1, 1}},
		orb.LineString{},
		orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}},
		orb.MultiPolygon{},
	} {
		blob, err := encodeGeometry(g, false)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(blob)
	}
	f.Fuzz(func(t *testing.T, blob []byte) {
		if len(blob) > 1<<12 {
			return
		}
		g, err := decodeGeometry(blob)
		if err != nil || g == nil {
			return
		}
		once, err := encodeGeometry(g, false)
		if err != nil {
			return
		}
		again, err := decodeGeometry(once)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
		if twice, err := encodeGeometry(again, false); err != nil || !bytes.Equal(once, twice) {
			t.Fatalf("% x became % x (%v)", once, twice, err)
		}
	})
}
