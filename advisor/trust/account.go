package trust

import (
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Case is what every case shares: which bore it was and in which block of land it lies.
type Case struct {
	ID    geo.BoreID
	Label string
	At    coord.LonLat
	Block int
}

// Cases are everything that was found, beside what was said of it before.
type Cases struct {
	Levels   []LevelCase
	Layers   []LayerCase
	Outcomes []OutcomeCase
}

// Account is how the statements stood; a part without cases is missing.
type Account struct {
	Level   *LevelAccount   `json:"level,omitempty"`
	Layers  *LayersAccount  `json:"layers,omitempty"`
	Outcome *OutcomeAccount `json:"outcome,omitempty"`
}

// Judge scores cases.
//
//   - Shapes: what was said in the order of [LevelTellers], [LayerTellers] and
//     [OutcomeTellers].
//   - Units: metres, nats per half-metre cell, probabilities.
//   - Domain: any cases; what is too small to tell is marked so.
//   - Cost: linear in the cases, and 1,000 draws of the blocks for each measure.
//   - Source: Gneiting and Raftery (2007) for the scores.
func Judge(c Cases) Account {
	return Account{Level: judgeLevels(c.Levels), Layers: judgeLayers(c.Layers), Outcome: judgeOutcomes(c.Outcomes)}
}
