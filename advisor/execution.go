package advisor

import (
	"waterstrike/advisor/evidence"
	"waterstrike/geo"

	"gonum.org/v1/gonum/mathext"
)

// Execution is what crews make of ground that is right: holes are lost to collapse and
// given up for reasons that no log tells. It is shown beside the chance, which is of the
// ground alone, and never multiplied into it.
type Execution struct {
	Method geo.Method `json:"method"`
	Holes  int        `json:"holes"` // of known outcome by this method
	Lost   int        `json:"lost"`  // collapsed, or given up without a reason of the ground
	Kept   Range      `json:"kept"`  // share of holes that are not lost so
}

// What is believed before any hole is counted: one in ten is lost, worth ten holes.
// Common practice, no source.
const (
	priorHoles = 10
	priorLost  = 1
)

// lost counts the holes of each method and those lost to the work.
type lost map[geo.Method]struct{ holes, lost int }

func lostIn(bores []*evidence.Bore) lost {
	out := lost{}
	for _, b := range bores {
		n := out[b.Method]
		switch b.Outcome {
		case geo.OutcomeUnknown:
			continue
		case geo.Collapsed, geo.Failed:
			n.lost++
		}
		n.holes++
		out[b.Method] = n
	}
	return out
}

// execution is the Beta distribution of the share that is kept.
//
//   - Units: shares of [0,1].
//   - Source: conjugate prior of a binomial share, any textbook.
//   - Checked by: TestExecution.
func (l lost) execution(m geo.Method) *Execution {
	n := l[m]
	kept, gone := l.counts(m)
	at := func(p float64) float64 { return mathext.InvRegIncBeta(kept, gone, p) }
	return &Execution{Method: m, Holes: n.holes, Lost: n.lost, Kept: Range{at(0.1), at(0.5), at(0.9)}}
}

// counts are the parameters of that distribution.
func (l lost) counts(m geo.Method) (kept, gone float64) {
	n := l[m]
	return float64(priorHoles - priorLost + n.holes - n.lost), float64(priorLost + n.lost)
}

// kept is its mean.
func (l lost) kept(m geo.Method) float64 {
	kept, gone := l.counts(m)
	return kept / (kept + gone)
}
