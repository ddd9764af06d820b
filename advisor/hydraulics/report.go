package hydraulics

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo/soil"
)

// Report says what a region's records taught of its materials.
type Report struct {
	Materials []Learnt `json:"materials"` // the described ones that any record speaks of, by class, grade and clay
	Yields    int      `json:"yields"`    // reported yields among the records
	AtLimit   float64  `json:"atLimit"`   // share of them that is taken for all that their wells could give
	Mixed     int      `json:"mixed"`     // records of several materials, which teach nothing
	AtOdds    int      `json:"atOdds"`    // records that cannot be of the material written down: they teach nothing
}

// Learnt is what is believed of the conductivity of one material after the records.
type Learnt struct {
	Class   soil.Class `json:"class"`
	Grade   soil.Grade `json:"grade"`
	Clayey  bool       `json:"clayey"`
	Records int        `json:"records"`
	MPerDay float64    `json:"mPerDay"` // middle of its layers
	Lo      float64    `json:"lo"`      // of 80 % of its layers
	Hi      float64    `json:"hi"`
}

// z80 is how many standard deviations about the mean hold 80 % of a Normal.
const z80 = 1.2815515655446004

// Report returns what the records taught; nothing of a region without records.
//
//   - Units: m/d; shares of [0,1].
//   - Source: as [Learn].
//   - Checked by: TestReportOfRecords.
func (c *Conductivities) Report() Report {
	r := Report{Materials: []Learnt{}, Yields: c.yields, AtLimit: c.limit, Mixed: c.mixed, AtOdds: c.odd}
	for m, x := range c.learnt {
		if m.Class == soil.Unknown {
			continue
		}
		wide := math.Pow(10, z80*math.Sqrt(x.sd*x.sd+x.layer))
		k := math.Pow(10, x.mean) * secondsPerDay
		r.Materials = append(r.Materials, Learnt{m.Class, m.Grade, m.Clayey, x.n, k, k / wide, k * wide})
	}
	slices.SortFunc(r.Materials, func(a, b Learnt) int {
		return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(a.Grade, b.Grade), clayLast(a, b))
	})
	return r
}

func clayLast(a, b Learnt) int {
	switch {
	case a.Clayey == b.Clayey:
		return 0
	case b.Clayey:
		return -1
	}
	return 1
}
