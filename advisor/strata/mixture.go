package strata

import "math"

// Mixture is the statement at one point: logs with their weights, and the region's.
type Mixture struct {
	Weights  []float64 // of the neighbours, in the order given, in logs at distance 0
	Regional float64   // weight of the region as a whole
	Odds     Odds
}

// At states what the logs near a point say together,
//
//		p(k) = (Σᵢ wᵢ pᵢ(k) + r p_reg(k)) / (Σᵢ wᵢ + r),  wᵢ = exp(-dᵢ/a).
//
//	  - Shapes: logs[i] belongs to distanceM[i].
//	  - Units: metres; weights in logs standing at the point itself.
//	  - Domain: no neighbours, or all of them far beyond the range, gives the regional
//	    profile.
//	  - Cost: neighbours · Cells · classes.
func (m *Model) At(logs []Log, distanceM []float64) Mixture {
	x := Mixture{Weights: make([]float64, len(logs)), Regional: m.regional}
	total := m.regional
	for i := range x.Odds {
		for k, p := range m.profile[i] {
			x.Odds[i][k] = m.regional * p
		}
	}
	for i, log := range logs {
		w := math.Exp(-distanceM[i] / m.rangeM)
		if !log.Described() {
			continue
		}
		x.Weights[i] = w
		total += w
		x.Odds.add(m.odds(log), w)
	}
	x.Odds.scale(1 / total)
	return x
}

// reachRanges is how many ranges away a log still counts as evidence: its weight is
// below 5 % beyond.
const reachRanges = 3

// ReachM is the distance beyond which a log no longer counts as evidence, metres.
func (m *Model) ReachM() float64 { return reachRanges * m.rangeM }

func (o *Odds) add(other *Odds, weight float64) {
	for i := range o {
		for k, p := range other[i] {
			o[i][k] += weight * p
		}
	}
}

func (o *Odds) scale(by float64) {
	for i := range o {
		for k := range o[i] {
			o[i][k] *= by
		}
	}
}

// Profile returns the regional profile: what is said far from every log.
func (m *Model) Profile() Odds { return m.profile }
