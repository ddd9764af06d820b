package krige

import "waterstrike/advisor/variogram"

// Trend is what a variant of kriging assumes of the mean: either known, or a sum
// of terms with unknown coefficients, each of which constrains the weights.
type Trend interface {
	// Terms is the number of unknown coefficients, 0 when the mean is known.
	Terms() int
	// Drifts is how many drift values each datum and target must bring.
	Drifts() int
	// Row writes the terms at a datum or target into dst. The first term is 1.
	Row(dst, drift []float64)
	// Mean is the known mean, 0 when there are terms.
	Mean() float64
	// Spares tells what becomes of a drift whose slope the data cannot tell, because it
	// does not vary among them or follows from the constant and the drifts before it: true
	// to leave it out of that system, false to refuse the system.
	Spares() bool
}

// Simple is kriging with a known mean.
type Simple struct {
	mean float64
}

// NewSimple returns the trend of a known mean.
//
//   - Units: mean in the values' unit.
//   - Errors: [variogram.ErrNotFinite].
//   - Source: Chilès and Delfiner (2012), Geostatistics, section 3.3.
func NewSimple(mean float64) (Simple, error) {
	if !finite(mean) {
		return Simple{}, variogram.ErrNotFinite
	}
	return Simple{mean}, nil
}

// Terms is 0.
func (Simple) Terms() int { return 0 }

// Drifts is 0.
func (Simple) Drifts() int { return 0 }

// Row writes nothing.
func (Simple) Row(_, _ []float64) {}

// Mean is the mean given.
func (t Simple) Mean() float64 { return t.mean }

// Spares is false: there is no drift.
func (Simple) Spares() bool { return false }

// Ordinary is kriging with one unknown mean: weights sum to 1.
type Ordinary struct{}

// Terms is 1.
func (Ordinary) Terms() int { return 1 }

// Drifts is 0.
func (Ordinary) Drifts() int { return 0 }

// Row writes the constant.
func (Ordinary) Row(dst, _ []float64) { dst[0] = 1 }

// Mean is 0: it is not known.
func (Ordinary) Mean() float64 { return 0 }

// Spares is false: there is no drift.
func (Ordinary) Spares() bool { return false }

// Universal is kriging with an unknown constant and unknown slopes on drift
// values known at data and targets, such as elevation.
type Universal struct {
	drifts int
	spares bool
}

// NewUniversal returns the trend of a constant and the given number of drifts.
//
//   - Errors: [*variogram.ParameterError] for fewer than one drift.
//   - Source: Chilès and Delfiner (2012), Geostatistics, sections 3.4 and 5.7.2.
func NewUniversal(drifts int) (Universal, error) {
	if drifts < 1 {
		return Universal{}, &variogram.ParameterError{Name: "number of drifts", Value: float64(drifts), Want: "1 or more"}
	}
	return Universal{drifts: drifts}, nil
}

// Sparing returns the same trend with another rule for a drift whose slope the data of
// a system cannot tell: it is left out of that system, as if its slope were 0 there and
// its value at the target that of the neighbours, and [Solver.LeftOut] names it. Of
// drifts that depend on each other the one given first stays.
//
// A slope that can be told, however badly, is kept: then the variance says so.
func (t Universal) Sparing() Universal {
	t.spares = true
	return t
}

// Terms is 1 more than the drifts.
func (t Universal) Terms() int { return 1 + t.drifts }

// Drifts is the number given.
func (t Universal) Drifts() int { return t.drifts }

// Row writes the constant and the drift values.
func (t Universal) Row(dst, drift []float64) {
	dst[0] = 1
	copy(dst[1:], drift)
}

// Mean is 0: it is not known.
func (Universal) Mean() float64 { return 0 }

// Spares is true after [Universal.Sparing].
func (t Universal) Spares() bool { return t.spares }
