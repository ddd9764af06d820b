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
	}
}
