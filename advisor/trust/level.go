package trust

import (
	"math"

	"waterstrike/geo"
)

// LevelCase is one level that was found, beside what everybody said of it.
type LevelCase struct {
	Case
	FoundM float64
	Said   []Forecast // in the order of [LevelTellers]
}

// The tellers: who makes a statement. The advisor stands first everywhere.
const (
	Advisor  geo.Code = "teller.advisor"
	Nearest  geo.Code = "teller.nearest"
	Inverse8 geo.Code = "teller.inverse-distance"
	Region   geo.Code = "teller.region"
	Kriging  geo.Code = "teller.plain-kriging"
	Eight    geo.Code = "teller.eight-nearest"
	BaseRate geo.Code = "teller.base-rate"
)

// LevelTellers are those who state a level, in the order of [LevelCase].Said.
func LevelTellers() []geo.Code { return []geo.Code{Advisor, Nearest, Inverse8, Region, Kriging} }

// LevelAccount is how the stated levels stood.
type LevelAccount struct {
	Cases    int        `json:"cases"`
	BiasM    float64    `json:"biasM"`   // median said less found, mean; negative is too shallow
	MedianM  float64    `json:"medianM"` // median of said less found
	FoundM   float64    `json:"foundM"`  // median depth that was found
	Coverage []Coverage `json:"coverage"`
	PIT      []int      `json:"pit"` // cases by tenth of the stated probability
	Measures []Measure  `json:"measures"`
}

// Coverage is how often a stated range held what was found.
type Coverage struct {
	Said  float64           `json:"said"`
	Held  float64           `json:"held"`
	Range geo.Opt[Interval] `json:"range,omitzero"` // of held, by blocks drawn again
}

func judgeLevels(cases []LevelCase) *LevelAccount {
	if len(cases) == 0 {
		return nil
	}
	a := &LevelAccount{Cases: len(cases), PIT: make([]int, 10)}
	found, off := make([]float64, len(cases)), make([]float64, len(cases))
	for i, c := range cases {
		found[i], off[i] = c.FoundM, c.Said[0].Quantile(0.5)-c.FoundM
		a.BiasM += off[i] / float64(len(cases))
		a.PIT[min(int(10*c.Said[0].PIT(c.FoundM)), 9)]++
	}
	a.FoundM, a.MedianM = median(found), median(off)
	for _, share := range []float64{0.5, 0.8, 0.95} {
		a.Coverage = append(a.Coverage, coverageOf(cases, share))
	}
	a.Measures = []Measure{
		levelMeasure("score.crps", cases, false, Forecast.CRPS),
		levelMeasure("score.mae", cases, false, func(f Forecast, y float64) float64 { return math.Abs(f.Quantile(0.5) - y) }),
		levelMeasure("score.rmse", cases, true, func(f Forecast, y float64) float64 { return square(f.Mean() - y) }),
	}
	return a
}

func levelMeasure(code geo.Code, cases []LevelCase, root bool, loss func(Forecast, float64) float64) Measure {
	s := &sheet{code: code, who: LevelTellers(), root: root}
	for _, c := range cases {
		losses := make([]float64, len(s.who))
		for i, f := range c.Said {
			losses[i] = loss(f, c.FoundM)
		}
		s.add(c.Block, 1, losses...)
	}
	return s.measure()
}

func coverageOf(cases []LevelCase, share float64) Coverage {
	s := &sheet{who: []geo.Code{Advisor}}
	for _, c := range cases {
		held := 0.0
		if c.Said[0].Within(c.FoundM, share) {
			held = 1
		}
		s.add(c.Block, 1, held)
	}
	held, within := s.share()
	return Coverage{Said: share, Held: held, Range: within}
}
