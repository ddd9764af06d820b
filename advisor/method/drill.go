package method

import "waterstrike/geo/soil"

// Reach is how far a method gets in one column of ground.
type Reach struct {
	DepthM    float64    // bottom of the hole
	StoppedBy soil.Class // what stopped it; soil.Unknown when a limit of the method did
	Limit     Limit      // which limit, when no ground stopped it
}

// Limit is what ends a hole that no ground has stopped.
type Limit uint8

// The limits.
const (
	ByDepth Limit = iota + 1 // the method's depth
	ByWater                  // its reach below the water
)

// Reach drills down through cells of equal thickness, the first at the surface, with the
// water standing at waterM.
//
//		bottom = min(MaxDepthM, waterM + BelowWaterM, first ground that stops the bit)
//
//	  - Shapes: cells[i] holds the class between i·cellM and (i+1)·cellM; the hole ends
//	    at the last cell's base at the latest.
//	  - Units: metres below ground; waterM may be negative (flowing).
//	  - Domain: slow ground adds up per class over the hole; what exceeds CrossableM
//	    stops the bit at that cell's top. An unknown class is taken as free: it is the
//	    evidence's task to say how likely each class is.
//	  - Source: the usual stop-or-move rule of hand-drilling crews (common practice, no source).
func (m *Method) Reach(cells []soil.Class, cellM, waterM float64) Reach {
	return m.StoppedIn(cells, cellM).Reach(m, float64(len(cells))*cellM, waterM)
}

// Stopped is where ground stops a method, whatever the water; soil.Unknown where none does.
type Stopped struct {
	DepthM float64
	By     soil.Class
}

// StoppedIn drills down through cells of equal thickness until ground stops the bit.
//
//   - Shapes, Domain, Source: as [Method.Reach].
//   - Units: metres below ground.
func (m *Method) StoppedIn(cells []soil.Class, cellM float64) Stopped {
	var slow [soil.Count + 1]float64
	for i, class := range cells {
		switch g := &m.Ground[class]; g.Pace {
		case Stop:
			return Stopped{float64(i) * cellM, class}
		case Slow:
			if slow[class]+cellM > g.CrossableM+1e-9 { // tenths of a metre do not add up exactly
				return Stopped{float64(i) * cellM, class}
			}
			slow[class] += cellM
		}
	}
	return Stopped{}
}

// Reach returns how far the method gets with the water at waterM, in a column that ends
// at endM: [Method.Reach] for several waters.
//
//   - Units: metres below ground.
//   - Source: as [Method.Reach].
func (s Stopped) Reach(m *Method, endM, waterM float64) Reach {
	limit, by := m.MaxDepthM, ByDepth
	if w := waterM + m.BelowWaterM; w < limit {
		limit, by = w, ByWater
	}
	if s.By != soil.Unknown && s.DepthM < limit {
		return Reach{DepthM: s.DepthM, StoppedBy: s.By}
	}
	return Reach{DepthM: max(0, min(limit, endM)), Limit: by}
}
