package coord_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"waterstrike/geo/coord"
)

// Values are arithmetic: degrees + minutes/60 + seconds/3600. The forms are
// those of ISO 6709 annex D and of field sheets (common practice, no source).
func TestReadAngle(t *testing.T) {
	const lat, lon = coord.Latitude, coord.Longitude
	sexagesimal := 5 + 30./60 + 15.5/3600
	tests := []struct {
		text string
		axis coord.Axis
		want float64
		half float64
	}{
		{"5.5", lat, 5.5, 0.05},
		{"-5.50", lat, -5.5, 0.005},
		{"−5,5", lat, -5.5, 0.05},
		{" +5.5° ", lat, 5.5, 0.05},
		{"5", lat, 5, 0.5},
		{"5.5 S", lat, -5.5, 0.05},
		{"s5.5", lat, -5.5, 0.05},
		{"5,5N", lat, 5.5, 0.05},
		{"5.5 Sud", lat, -5.5, 0.05},
		{"5.5 Sul", lat, -5.5, 0.05},
		{"0.5W", lon, -0.5, 0.05},
		{"0.5 O", lon, -0.5, 0.05},
		{"0,5 Ouest", lon, -0.5, 0.05},
		{"Oeste 0.5", lon, -0.5, 0.05},
		{"0.5 L", lon, 0.5, 0.05},
		{"0.5 leste", lon, 0.5, 0.05},
		{"0.5E", lon, 0.5, 0.05},
		{"5°30'", lat, 5.5, 0.5 / 60},
		{"5º30.0′N", lat, 5.5, 0.05 / 60},
		{"5 30,5", lat, 5 + 30.5/60, 0.05 / 60},
		{"-0 30", lat, -0.5, 0.5 / 60},
		{`5°30'15.5"`, lat, sexagesimal, 0.05 / 3600},
		{`5°30′15.5″ S`, lat, -sexagesimal, 0.05 / 3600},
		{"5°30’15,5” S", lat, -sexagesimal, 0.05 / 3600},
		{"5°30'15.5''N", lat, sexagesimal, 0.05 / 3600},
		{"5d30m15.5s", lat, sexagesimal, 0.05 / 3600},
		{"5d30m15.5sS", lat, -sexagesimal, 0.05 / 3600},
		{"5d30mN", lat, 5.5, 0.5 / 60},
		{"S5d30m15.5S", lat, -sexagesimal, 0.05 / 3600},
		{"5D30M15.5S", lon, sexagesimal, 0.05 / 3600},
		{"5:30:15.5", lat, sexagesimal, 0.05 / 3600},
		{"5 30 15.5 s", lat, -sexagesimal, 0.05 / 3600},
		{"005 30 15.5 W", lon, -sexagesimal, 0.05 / 3600},
		{"5 deg 30 min 15.5 sec", lat, sexagesimal, 0.05 / 3600},
		{"180", lon, 180, 0.5},
		{"-90", lat, -90, 0.5},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			deg, half, err := coord.ReadAngle(tt.text, tt.axis)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "degrees", deg, tt.want, 1e-13) // a few roundings
			near(t, "precision", half, tt.half, 1e-15)
		})
	}
}

func TestReadAngleRefuses(t *testing.T) {
	const lat, lon = coord.Latitude, coord.Longitude
	tests := []struct {
		text string
		axis coord.Axis
		want coord.Code
	}{
		{"", lat, coord.Empty},
		{" \t", lat, coord.Empty},
		{strings.Repeat("5", 200), lat, coord.TooLong},
		{"north", lat, coord.Unreadable},
		{"NaN", lat, coord.Unreadable},
		{"Inf", lat, coord.Unreadable},
		{"1e1", lon, coord.Unreadable},
		{"0x1p3", lon, coord.Unreadable},
		{"5.5.5", lat, coord.Unreadable},
		{"5,5,5", lat, coord.Unreadable},
		{"5.5 30", lat, coord.Unreadable},
		{"5 30 15 10", lat, coord.Unreadable},
		{"5'30", lat, coord.Unreadable},
		{"5°°30", lat, coord.Unreadable},
		{"36o49", lon, coord.Unreadable},
		{"053015", lat, coord.Unreadable},
		{"5 60", lat, coord.BadSixtieths},
		{"5 30 60", lat, coord.BadSixtieths},
		{"90.0001", lat, coord.OutOfRange},
		{"90 0 0.01", lat, coord.OutOfRange},
		{"181", lon, coord.OutOfRange},
		{"5.5 E", lat, coord.WrongAxis},
		{"5.5 N", lon, coord.WrongAxis},
		{"-5.5 N", lat, coord.Contradicts},
		{"-5.5 S", lat, coord.Contradicts},
		{"N 5.5 S", lat, coord.Contradicts},
		{"5d30m15S", lat, coord.Ambiguous},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			deg, _, err := coord.ReadAngle(tt.text, tt.axis)
			wantCode(t, deg, err, tt.want)
		})
	}
}

func wantCode(t *testing.T, got any, err error, want coord.Code) {
	t.Helper()
	var re *coord.ReadError
	if !errors.As(err, &re) {
		t.Fatalf("got %v, %v; want a ReadError %s", got, err, want)
	}
	if re.Code != want {
		t.Errorf("code %s, want %s", re.Code, want)
	}
	if !strings.Contains(err.Error(), string(re.Part)) || !strings.Contains(err.Error(), "accepted: ") {
		t.Errorf("the message names no part or no accepted form: %v", err)
	}
}

// FuzzReadAngle: whatever is read is in range, and reads the same when written
// again in decimal degrees and in degrees, minutes and seconds.
func FuzzReadAngle(f *testing.F) {
	for _, s := range []string{"5.5", "-0 30", "5°30'15.5\"S", "5d30m15sS", "N 5:30", "0,5 Ouest", "180", "°", "5 30 s", "L12"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, text string, isLat bool) {
		axis, limit, letters := coord.Longitude, 180.0, "EW"
		if isLat {
			axis, limit, letters = coord.Latitude, 90, "NS"
		}
		deg, half, err := coord.ReadAngle(text, axis)
		if err != nil {
			var re *coord.ReadError
			if !errors.As(err, &re) || deg != 0 || half != 0 {
				t.Fatalf("%v, %v, %v", deg, half, err)
			}
			return
		}
		if !(math.Abs(deg) <= limit) || !(half > 0 && half <= 0.5) {
			t.Fatalf("%q read as %v, precision %v", text, deg, half)
		}
		rereads(t, fmt.Sprintf("%.15f", deg), axis, deg, 1e-14)
		whole := math.Floor(math.Abs(deg))
		minutes := math.Floor((math.Abs(deg) - whole) * 60)
		seconds := min(max(((math.Abs(deg)-whole)*60-minutes)*60, 0), 59.9999999999)
		side := letters[:1]
		if math.Signbit(deg) {
			side = letters[1:]
		}
		rereads(t, fmt.Sprintf("%.0f°%02.0f'%.10f\"%s", whole, minutes, seconds, side), axis, deg, 1e-12)
	})
}

func rereads(t *testing.T, text string, axis coord.Axis, want, tol float64) {
	t.Helper()
	got, _, err := coord.ReadAngle(text, axis)
	if err != nil || math.Abs(got-want) > tol {
		t.Fatalf("%q reads as %v, %v; want %v", text, got, err, want)
	}
}
