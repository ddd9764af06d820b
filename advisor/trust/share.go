package trust

import (
	"math/rand/v2"
	"slices"

	"waterstrike/geo"
)

// share returns the mean of a sheet with one column, and its interval by blocks of land
// drawn again; no interval where there are too few.
func (s *sheet) share() (mean float64, within geo.Opt[Interval]) {
	blocks := s.byBlock()
	total := sums{loss: make([]float64, 1)}
	for _, b := range blocks {
		total.add(b)
	}
	mean = s.score(total, 0)
	if len(s.rows) < LeastCases || len(blocks) < LeastBlocks {
		return mean, within
	}
	draws := make([]float64, resamples)
	rng := rand.New(rand.NewPCG(2, uint64(len(s.rows))))
	for i := range draws {
		total.clear()
		for range blocks {
			total.add(blocks[rng.IntN(len(blocks))])
		}
		draws[i] = s.score(total, 0)
	}
	return mean, geo.Some(intervalOf(draws, mean))
}

func square(x float64) float64 { return x * x }

func median(x []float64) float64 { return Forecast(slices.Sorted(slices.Values(x))).Quantile(0.5) }
