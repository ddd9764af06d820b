package demoland

import (
	"math"

	"waterstrike/geo/coord"
)

// Quality is what is dissolved in the water at one point and depth.
type Quality struct {
	ECuScm      float64 // electrical conductivity at 25 °C
	IronMgL     float64
	NitrateMgL  float64 // as NO3
	ArsenicMgL  float64
	FluorideMgL float64
}

// Quality returns the quality of the water at a depth below p: salt under the coast's
// fresh lens, iron in the weathered rock, nitrate where water is shallow, fluoride by
// chance, and arsenic low but for the young valley fill of the basin. The sizes are
// common practice, no source.
func (l *Land) Quality(p coord.LonLat, depthM float64) Quality {
	c := l.column(l.frame(p))
	at := func(i int) float64 { return l.fields[i].at(c.at) }
	q := Quality{
		ECuScm:      180 * math.Exp(0.4*at(saltField)),
		IronMgL:     0.25 * math.Exp(1.1*at(ironField)),
		NitrateMgL:  14 * math.Exp(0.9*at(nitrateField)-max(depthM-3, 0)/15),
		ArsenicMgL:  0.0008 * math.Exp(0.5*at(ironField)),
		FluorideMgL: 0.35 * math.Exp(0.7*at(fluorideField)),
	}
	if salt, ok := c.SaltBelowM.Get(); ok {
		q.ECuScm = mix(q.ECuScm+300, 30000, ramp(depthM, salt-3, salt+3))
	}
	if c.Setting == Valley {
		q.ArsenicMgL += 0.035 * ramp(l.confinedAt(c.at, c.relief.fillM), 0.1, 0.6)
	}
	return q
}
