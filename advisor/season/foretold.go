package season

import "waterstrike/advisor/trust"

// Foretold is the chance that a track record gave each bore by its own method, from the
// others alone.
func Foretold(r trust.Report) map[string]float64 {
	out := map[string]float64{}
	for _, c := range r.Cases.Outcomes {
		out[string(c.ID)] = c.Said[0] // the advisor's: [trust.OutcomeTellers]
	}
	return out
}
