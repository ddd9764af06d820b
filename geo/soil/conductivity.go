package soil

import "math"

// Conductivity is a log-normal statement about hydraulic conductivity.
type Conductivity struct {
	Log10MPerS float64 // mean of log10 K, K in metres per second
	SDDecades  float64 // standard deviation of log10 K
}

// MetresPerDay returns the geometric mean of K in metres per day.
func (k Conductivity) MetresPerDay() float64 { return math.Pow(10, k.Log10MPerS) * 86400 }

// clayeyDecades is how much less a clayey or silty sand or gravel gives than a clean one.
const clayeyDecades = 1.0

// ConductivityOf returns the prior of K for a class and grade; clayey means that the
// words name clay or silt as a secondary material.
//
//   - Units: log10 of m/s; standard deviation in decades.
//   - Domain: every class; a sand without a grade takes the medium sand's mean and a
//     wider spread; Unknown takes the widest.
//   - Source: geometric means of the ranges of Bouwer (1978) for sands and gravel,
//     Freeze & Cherry (1979) table 2.2 for silt and clay (from memory), Chilton &
//     Foster (1995) for weathered rock (from memory); half a decade within a grade and
//     one decade less when clayey are common practice, no source.
func ConductivityOf(c Class, g Grade, clayey bool) Conductivity {
	k := clean(c, g)
	if clayey && (c == Sand || c == Gravel) {
		k.Log10MPerS -= clayeyDecades
	}
	return k
}

func clean(c Class, g Grade) Conductivity {
	switch c {
	case Sand:
		return sandConductivity(g)
	case Gravel: // 100-1000 m/d
		return Conductivity{perDay(316), 0.5}
	case Silt:
		return Conductivity{-7, 0.8}
	case Clay:
		return Conductivity{-9.5, 0.8}
	case Topsoil:
		return Conductivity{-6, 0.8}
	case Hardpan:
		return Conductivity{-7, 1}
	case WeatheredRock: // clay-rich 0.01-0.5, sandy base 0.5-5 m/d
		return Conductivity{perDay(0.5), 0.6}
	case FracturedRock: // 0.001-10 m/d: one order each side of the mean
		return Conductivity{perDay(0.1), 1}
	case Rock:
		return Conductivity{-10, 1}
	default:
		return Conductivity{-7, 2}
	}
}

func sandConductivity(g Grade) Conductivity {
	switch g {
	case Fine: // 1-5 m/d
		return Conductivity{perDay(2.24), 0.5}
	case Coarse: // 20-100 m/d
		return Conductivity{perDay(44.7), 0.5}
	case Medium: // 5-20 m/d
		return Conductivity{perDay(10), 0.5}
	default:
		return Conductivity{perDay(10), 0.8}
	}
}

func perDay(metres float64) float64 { return math.Log10(metres / 86400) }
