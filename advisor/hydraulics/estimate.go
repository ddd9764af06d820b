package hydraulics

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Estimate is a number above 0 found from readings, and what it could as well be.
type Estimate struct {
	Value   float64
	Lo, Hi  float64 // hold the true value in 95 cases of 100
	Decades float64 // standard error of log10 of Value, that of the choice of method included
}

// Holds reports that v lies in the range.
func (e Estimate) Holds(v float64) bool { return e.Lo <= v && v <= e.Hi }

// methodDecades is the standard error that the choice among good methods adds to any fit:
// a range of a third each way. On one textbook test lines and curves by hand give
// 370-396 m²/d, least squares on the same readings 462-502 and a line through the late
// ones 542.
//
// Source: the standard deviation of log10 T over these, Kruseman and de Ridder's test Oude
// Korendijk, from memory; see TestOudeKorendijkMethodsDiffer.
const methodDecades = 0.065

// mostDecades is the standard error beyond which an answer is called open.
const mostDecades = 1

// normal95 is the 97.5 % point of the standard Normal.
const normal95 = 1.959963984540054

// fitted is the estimate of a fit: seLn is the standard error of the natural logarithm, by
// the delta method, on so many degrees of freedom.
func fitted(value, seLn float64, dof int) (Estimate, error) {
	return ranged(value, math.Hypot(seLn/math.Ln10*student(dof)/normal95, methodDecades))
}

// student is the 97.5 % point of Student's t.
func student(dof int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(dof)}.Quantile(0.975)
}

// judged is the estimate of a rule whose error is known from practice.
func judged(value, decades float64) (Estimate, error) { return ranged(value, decades) }

func ranged(value, decades float64) (Estimate, error) {
	if !(value > 0) || math.IsInf(value, 0) {
		return Estimate{}, ErrNoAnswer
	}
	if !(decades <= mostDecades) {
		return Estimate{}, ErrOpen
	}
	wide := math.Pow(10, normal95*decades)
	e := Estimate{Value: value, Lo: value / wide, Hi: value * wide, Decades: decades}
	if !(e.Lo > 0) || math.IsInf(e.Hi, 0) {
		return Estimate{}, ErrNoAnswer
	}
	return e, nil
}
