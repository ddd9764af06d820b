package tile_test

import (
	"slices"
	"time"
)

// share is the time in ms that a share of all does not exceed.
func share(took []time.Duration, of float64) float64 {
	slices.Sort(took)
	return took[int(of*float64(len(took)-1))].Seconds() * 1000
}
