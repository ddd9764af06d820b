package advisor_test

import (
	"encoding/json"
	"sync"
	"testing"

	"waterstrike/advisor"
	"waterstrike/geo/coord"
)

// Many may ask at the same time, each is answered as if alone.
func TestAdviseConcurrent(t *testing.T) {
	a := newAdvisor(t, region(t, 80))
	ask := func(i int) string {
		out, err := a.Advise(t.Context(), advisor.Question{At: coord.LonLat{Lon: 0.04 * float64(i), Lat: 0.2}, Seed: uint64(i)})
		if err != nil {
			t.Error(err)
		}
		text, err := json.Marshal(out)
		if err != nil {
			t.Error(err)
		}
		return string(text)
	}
	const askers, points = 4, 10
	var want [points]string
	for i := range want {
		want[i] = ask(i)
	}
	var asking sync.WaitGroup
	for k := range askers {
		asking.Go(func() {
			for i := range points {
				at := (i*7 + k*3) % points // in another order for each
				if ask(at) != want[at] {
					t.Errorf("point %d is answered otherwise when others ask too", at)
				}
			}
		})
	}
	asking.Wait()
}
