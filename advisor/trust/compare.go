package trust

import (
	"math"
	"math/rand/v2"
	"slices"

	"waterstrike/geo"
)

// Measure is one score of everybody who made a statement about the same cases.
type Measure struct {
	Code      geo.Code   `json:"code"`   // what is measured, such as "score.crps"
	Cases     int        `json:"cases"`  // how many cases it rests on
	Blocks    int        `json:"blocks"` // in how many blocks of land they lie
	TooFew    bool       `json:"tooFew"` // too few to tell anybody apart
	Standings []Standing `json:"standings"`
}

// Standing is the score of one who made a statement. Lower is better in every measure.
type Standing struct {
	Who   geo.Code          `json:"who"`
	Score float64           `json:"score"`
	Worse geo.Opt[Interval] `json:"worse,omitzero"` // by how much than the advisor; missing for itself
	Error geo.Opt[float64]  `json:"error,omitzero"` // standard error of that difference
}

// Interval is a 95 % interval.
type Interval struct {
	Lo  float64 `json:"lo"`
	Mid float64 `json:"mid"`
	Hi  float64 `json:"hi"`
}

// The least that an interval is drawn from: fewer blocks cannot stand for the region.
// Common practice, no source.
const (
	LeastCases  = 30
	LeastBlocks = 8
)

const resamples = 1000

// sheet gathers one measure case by case.
type sheet struct {
	code geo.Code
	who  []geo.Code // the advisor first
	root bool       // the score is the root of the mean loss
	rows []row
}

// row is what everybody lost on one case, and what the case counts.
type row struct {
	block  int
	weight float64
	loss   []float64 // in the order of who
}

func (s *sheet) add(block int, weight float64, loss ...float64) {
	s.rows = append(s.rows, row{block, weight, loss})
}

// sums are totals over some blocks.
type sums struct {
	weight float64
	loss   []float64
}

func (s *sums) add(other sums) {
	s.weight += other.weight
	for i, l := range other.loss {
		s.loss[i] += l
	}
}

func (s *sums) clear() {
	s.weight = 0
	clear(s.loss)
}

// byBlock totals the rows of every block, in order of the blocks' numbers.
func (s *sheet) byBlock() []sums {
	rows := slices.Clone(s.rows)
	slices.SortStableFunc(rows, func(a, b row) int { return a.block - b.block })
	var out []sums
	for i, r := range rows {
		if i == 0 || rows[i-1].block != r.block {
			out = append(out, sums{loss: make([]float64, len(s.who))})
		}
		out[len(out)-1].add(sums{r.weight, r.loss})
	}
	return out
}

func (s *sheet) score(t sums, who int) float64 {
	mean := t.loss[who] / t.weight
	if s.root {
		return math.Sqrt(mean)
	}
	return mean
}

// measure scores everybody and draws the paired block bootstrap of every difference from
// the advisor.
//
//   - Source: Efron and Tibshirani (1993), chapter 8, with blocks of land as the unit that
//     is drawn; percentile intervals.
func (s *sheet) measure() Measure {
	blocks := s.byBlock()
	m := Measure{
		Code: s.code, Cases: len(s.rows), Blocks: len(blocks),
		TooFew: len(s.rows) < LeastCases || len(blocks) < LeastBlocks,
	}
	if len(s.rows) == 0 {
		return m
	}
	total := sums{loss: make([]float64, len(s.who))}
	for _, b := range blocks {
		total.add(b)
	}
	for i, who := range s.who {
		m.Standings = append(m.Standings, Standing{Who: who, Score: s.score(total, i)})
	}
	if !m.TooFew {
		s.compare(m.Standings, blocks)
	}
	return m
}

func (s *sheet) compare(standings []Standing, blocks []sums) {
	differences := make([][]float64, len(s.who))
	drawn := sums{loss: make([]float64, len(s.who))}
	rng := rand.New(rand.NewPCG(1, uint64(len(s.rows))))
	for range resamples {
		drawn.clear()
		for range blocks {
			drawn.add(blocks[rng.IntN(len(blocks))])
		}
		for i := 1; i < len(s.who); i++ {
			differences[i] = append(differences[i], s.score(drawn, i)-s.score(drawn, 0))
		}
	}
	for i := 1; i < len(s.who); i++ {
		mid := standings[i].Score - standings[0].Score
		standings[i].Worse = geo.Some(intervalOf(differences[i], mid))
		standings[i].Error = geo.Some(spread(differences[i]))
	}
}

// intervalOf returns the middle 95 % of draws around a value.
func intervalOf(draws []float64, mid float64) Interval {
	slices.Sort(draws)
	f := Forecast(draws)
	return Interval{f.Quantile(0.025), mid, f.Quantile(0.975)}
}

func spread(draws []float64) float64 {
	mean := Forecast(draws).Mean()
	sum := 0.0
	for _, d := range draws {
		sum += (d - mean) * (d - mean)
	}
	return math.Sqrt(sum / float64(len(draws)-1))
}
