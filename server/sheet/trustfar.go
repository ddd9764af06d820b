package sheet

import (
	"slices"

	"waterstrike/advisor/trust"
)

// How far from the middle of all a bore may lie to stay on a map, in widths of the middle
// nine tenths: one whose position is wrong would leave a map of nothing else.
const (
	middleShare = 0.9
	farWidths   = 1.5
)

// farOff returns the places, in the list, of the cases that lie far from all others.
func farOff(cases []trust.LevelCase) map[int]bool {
	lons, lats := make([]float64, len(cases)), make([]float64, len(cases))
	for i, c := range cases {
		lons[i], lats[i] = c.At.Lon, c.At.Lat
	}
	west, east := reachOf(lons)
	south, north := reachOf(lats)
	far := map[int]bool{}
	for i, c := range cases {
		if c.At.Lon < west || c.At.Lon > east || c.At.Lat < south || c.At.Lat > north {
			far[i] = true
		}
	}
	return far
}

// reachOf is the stretch within which values are not far off.
func reachOf(values []float64) (lo, hi float64) {
	if len(values) == 0 {
		return 0, 0
	}
	sorted := trust.Forecast(slices.Sorted(slices.Values(values)))
	lo, hi = sorted.Quantile((1-middleShare)/2), sorted.Quantile((1+middleShare)/2)
	return lo - farWidths*(hi-lo), hi + farWidths*(hi-lo)
}
