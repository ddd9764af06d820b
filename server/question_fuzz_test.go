package server_test

import (
	"encoding/json"
	"math"
	"net/http"
	"net/url"
	"testing"
)

// FuzzQuestion asks with any parameters: the answer is one, or says what is wrong with the
// question. It is never the program's own fault, and always JSON.
func FuzzQuestion(f *testing.F) {
	for _, s := range [][4]string{
		{"0.1 0.2", "", "1", ""}, {"31N 500000 20000", "v1", "", "50"}, {"0°30'N 0°15'W", "", "18446744073709551616", "-1"}, {"", "v1", "x", "1e9"}, {"%", "\x00", "", "NaN"},
	} {
		f.Add(s[0], s[1], s[2], s[3])
	}
	b := newBench(f, land{}, nil)
	f.Fuzz(func(t *testing.T, at, village, seed, px string) {
		if len(at)+len(village)+len(seed)+len(px) > 1<<10 {
			return // longer than any question
		}
		b.oracle.asked = nil
		b.log.Reset()
		q := url.Values{"at": {at}, "village": {village}, "seed": {seed}, "px": {px}}.Encode()
		w := b.get("/advice.json?" + q)
		if w.Code >= http.StatusInternalServerError || !json.Valid(w.Body.Bytes()) {
			t.Errorf("%s: %d %s", q, w.Code, w.Body)
		}
		for _, asked := range b.oracle.asked {
			if !asked.At.Valid() || math.IsNaN(asked.At.Lon) {
				t.Errorf("%s asks at %v", q, asked.At)
			}
		}
		if w := b.get("/map.svg?" + q); w.Code >= http.StatusInternalServerError {
			t.Errorf("map: %s: %d", q, w.Code)
		}
	})
}
