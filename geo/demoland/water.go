package demoland

import "math"

// water is where the rest level stands at one point.
type water struct {
	lowM   float64 // depth at the dry-season low of a normal year; negative above ground
	rangeM float64 // full annual range
	head   float64 // 0 under the water table, 1 where a confined head sets the level
}

// waterAt is a subdued replica of the land: deep under hills, shallow in valleys, nearly
// at sea level behind the shore, never down in fresh rock, with a correlated field on
// top; in the basin the level
// passes over to the head of the confined sand.
func (l *Land) waterAt(p pt, r relief, soils profile, confined float64) water {
	at := func(i int) float64 { return l.fields[i].at(p) }
	far := at(levelFarField)
	over := max(r.overM, 0)
	trend := l.levelScale * (1.9 + 0.58*over*45/(over+45))
	low := (trend+0.8)*math.Exp(l.levelSpread*(0.85*far+0.5*at(levelNearField))+0.035*at(levelSpotField)) - 0.8
	low = lower(low, max(soils.topsoil, r.fillM)+soils.thickM()-0.3*soils.broken, 5) // fresh rock holds none
	sand := 1 - ramp(r.shoreM, 0.7*l.stripM, 1.3*l.stripM)
	low = mix(low, r.groundM-0.15-0.0007*r.shoreM, sand)
	out := water{lowM: max(low, 0.35), head: ramp(confined, 0.1, 0.5)}
	valley := ramp(r.fillM, 1, 6)
	out.rangeM = l.rangeScale * math.Exp(0.22*at(rangeField)) *
		mix(mix(3.2*(1-0.45*ramp(soils.mottled, 3, 9)), 2.1, valley), 1.1, sand)
	out.rangeM = min(out.rangeM, 0.8*out.lowM)
	out.lowM = mix(out.lowM, 2.4-2.5*confined+0.9*far, out.head)
	out.rangeM = mix(out.rangeM, 0.8, out.head)
	return out
}

// level is the depth to rest: season and year applied, never above ground under a water
// table.
func (w water) level(season, yearM float64) float64 {
	depth := w.lowM + yearM - season*w.rangeM
	return max(depth, mix(0.05, -5, w.head))
}
