package trust

import (
	"math"

	"waterstrike/advisor/strata"
	"waterstrike/geo"
)

// LayerTellers are those who state layers, in the order of a [CellSaid].
func LayerTellers() []geo.Code { return []geo.Code{Advisor, Nearest, Region, Eight} }

// LayerCase is one log that was found, cell by cell from the surface.
type LayerCase struct {
	Case
	Cells []CellSaid
}

// CellSaid is what everybody said of one half-metre that was logged.
type CellSaid struct {
	TopM float64
	Odds []float64 // given to the class that was found, in the order of [LayerTellers]
	Hit  []bool    // the likeliest class was the one found
}

// LayersAccount is how the stated layers stood.
type LayersAccount struct {
	Logs  int           `json:"logs"`
	Bands []BandAccount `json:"bands"`
}

// BandAccount is the same for a range of depth: of all cells first.
type BandAccount struct {
	TopM  float64 `json:"topM"`
	BaseM float64 `json:"baseM"`
	Cells int     `json:"cells"`
	Log   Measure `json:"log"`   // nats per half-metre
	Wrong Measure `json:"wrong"` // share of half-metres whose likeliest class was another
}

// leastOdds is the floor of odds in the log score.
const leastOdds = 1e-4

func judgeLayers(cases []LayerCase) *LayersAccount {
	if len(cases) == 0 {
		return nil
	}
	const deepestM = strata.Cells * strata.CellM
	a := &LayersAccount{Logs: len(cases)}
	for _, b := range [][2]float64{{0, deepestM}, {0, 10}, {10, 20}, {20, deepestM}} {
		a.Bands = append(a.Bands, judgeBand(cases, b[0], b[1]))
	}
	return a
}

func judgeBand(cases []LayerCase, topM, baseM float64) BandAccount {
	log := &sheet{code: "score.log", who: LayerTellers()}
	wrong := &sheet{code: "score.wrong", who: LayerTellers()}
	out := BandAccount{TopM: topM, BaseM: baseM}
	for _, c := range cases {
		cells := 0
		lost, missed := make([]float64, len(log.who)), make([]float64, len(log.who))
		for _, cell := range c.Cells {
			if cell.TopM < topM || cell.TopM >= baseM {
				continue
			}
			cells++
			for i, p := range cell.Odds {
				lost[i] -= math.Log(max(p, leastOdds))
				if !cell.Hit[i] {
					missed[i]++
				}
			}
		}
		if cells > 0 {
			log.add(c.Block, float64(cells), lost...)
			wrong.add(c.Block, float64(cells), missed...)
			out.Cells += cells
		}
	}
	out.Log, out.Wrong = log.measure(), wrong.measure()
	return out
}
