// Package methodtest holds methods against invented ground, whose truth tests know.
package methodtest

import (
	"math"

	"waterstrike/advisor/method"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
)

// Limits are the limits of a method as the invented ground keeps them.
func Limits(m *method.Method) demoland.Limits {
	l := demoland.Limits{MaxDepthM: m.MaxDepthM, BelowWaterM: m.BelowWaterM}
	for _, class := range soil.Known() {
		switch g := m.Ground[class]; g.Pace {
		case method.Free:
			l.PassM[class] = math.Inf(1)
		case method.Slow:
			l.PassM[class] = g.CrossableM
		}
	}
	return l
}
