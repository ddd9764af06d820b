package demoland

import (
	"math"
	"math/rand/v2"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// detection limits of the laboratory, mg/L.
const (
	arsenicLimit  = 0.002
	fluorideLimit = 0.1
)

// samples is one bottle taken to the laboratory a week after completion.
func (l *Land) samples(r *rand.Rand, p coord.LonLat, depthM float64, on time.Time) []geo.Sample {
	q := l.Quality(p, depthM)
	day := dateOf(on.AddDate(0, 0, 7))
	read := func(analyte, basis, unit string, value, step, limit float64) geo.Sample {
		s := geo.Sample{Analyte: analyte, Basis: basis, Unit: unit, On: day, Laboratory: "regional laboratory"}
		value = round(value*math.Exp(0.06*r.NormFloat64()), step)
		if value < limit {
			s.DetectionLimit = geo.Some(limit)
			return s
		}
		s.Value = geo.Some(value)
		return s
	}
	return []geo.Sample{
		read("ec", "", "uS/cm", q.ECuScm, 1, 0),
		read("iron", "", "mg/L", q.IronMgL, 0.01, 0.01),
		read("nitrate", "NO3", "mg/L", q.NitrateMgL, 0.1, 0.5),
		read("arsenic", "", "mg/L", q.ArsenicMgL, 0.001, arsenicLimit),
		read("fluoride", "", "mg/L", q.FluorideMgL, 0.01, fluorideLimit),
		l.bacteria(p, on, day),
	}
}

// bacteria counts E. coli in the bottle: none from three wells in four, and a few or many
// from those that dirt gets into. Common practice, no source.
func (l *Land) bacteria(p coord.LonLat, completed time.Time, day geo.Opt[geo.Date]) geo.Sample {
	r := l.luck(l.frame(p), "bacteria", completed)
	s := geo.Sample{Analyte: "e-coli", Unit: "CFU/100mL", On: day, Laboratory: "regional laboratory"}
	if r.Float64() < 0.75 {
		s.DetectionLimit = geo.Some(1.0)
		return s
	}
	s.Value = geo.Some(math.Ceil(8 * math.Exp(1.2*r.NormFloat64())))
	return s
}
