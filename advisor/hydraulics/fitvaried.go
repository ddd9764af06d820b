package hydraulics

import (
	"math"

	"waterstrike/geo"

	"gonum.org/v1/gonum/mat"
)

// Varied is what a well tells that was pumped at changing rates and read itself,
//
//	s = Σ ΔQᵢ ln(t-tᵢ)/(4πT) + b Q + C Q².
type Varied struct {
	Fit
	Losses  geo.Opt[StepFit] // B is the ground's part after the first rate; missing with one rate alone
	rates   []Rate
	a, b, c float64
}

// FitVaried fits the straight lines of all rates of a pumped well together, with its losses.
// Readings of the time when the well gave of its own water after a change are left out.
//
//   - Shapes: rates as [TheisRates]; at least 3 readings more than there are unknowns, in
//     order of time, of which some may be of the recovery.
//   - Units: as [Pumping] and [Reading].
//   - Domain: confined ground or drawdowns by [JacobCorrected]; readings late enough for a
//     straight line, which they are at once in the well itself. Where late readings are too
//     few all count, with the sign [WellStorage]. S is not told.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer], [ErrOpen].
//   - Source: Eden and Hazel (1973), from memory; linear least squares.
//   - Checked by: TestFitVaried, TestRangesHoldTheTruth.
func FitVaried(p Pumping, rates []Rate, readings []Reading) (Varied, error) {
	if err := positive(named{"distance", p.DistanceM}, named{"open radius", p.OpenRadiusM}); err != nil {
		return Varied{}, err
	}
	if err := checkRates(rates); err != nil {
		return Varied{}, err
	}
	if err := checkReadings(readings, 4); err != nil {
		return Varied{}, err
	}
	v, err := varied(rates, readings, from(0, len(readings)))
	if err != nil {
		return Varied{}, err
	}
	for _, r := range rules {
		better, ok := v.late(r.storage*p.OpenRadiusM*p.OpenRadiusM, readings)
		if ok {
			better.Signs = append(p.signs(r), better.Signs...)
			return better, nil
		}
	}
	v.Signs = append([]Sign{WellStorage}, v.Signs...)
	return v, nil
}

// late fits the readings again that lie so many r²/T after each change of rate, by the T
// that they themselves give.
func (v Varied) late(square float64, readings []Reading) (Varied, bool) {
	for range 4 {
		var used []int
		for i, r := range readings {
			if r.Days-v.changed(r.Days) > square/v.T.Value {
				used = append(used, i)
			}
		}
		better, err := varied(v.rates, readings, used)
		if err != nil {
			return v, false
		}
		if len(better.Used) == len(v.Used) {
			return better, true
		}
		v = better
	}
	return v, true
}

// changed is when the rate that runs at a time began.
func (v Varied) changed(days float64) float64 {
	at := 0.0
	for _, r := range v.rates {
		if r.FromDays < days {
			at = r.FromDays
		}
	}
	return at
}

// logOf is Σ ΔQᵢ ln(t-tᵢ), and the rate of that time.
func logOf(rates []Rate, days float64) (sum, rate float64) {
	for _, r := range rates {
		if r.FromDays < days {
			sum += (r.DischargeM3D - rate) * math.Log(days-r.FromDays)
			rate = r.DischargeM3D
		}
	}
	return sum, rate
}

// Ground is the part of the drawdown that the ground makes at a time after the start.
//
//   - Units: d; result in m.
//   - Domain: times above 0 that are no moment of a change.
//   - Source: Cooper and Jacob (1946); superposition.
//   - Checked by: TestFitVaried.
func (v Varied) Ground(days float64) float64 {
	h, q := logOf(v.rates, days)
	return v.a*h + v.b*q
}

// Drawdown is all of it, with what the well loses.
//
//   - Units, Domain: as Ground.
//   - Source: Eden and Hazel (1973), from memory.
//   - Checked by: TestFitVaried.
func (v Varied) Drawdown(days float64) float64 {
	_, q := logOf(v.rates, days)
	return v.Ground(days) + v.c*q*q
}

func varied(rates []Rate, readings []Reading, used []int) (Varied, error) {
	most, different := 0.0, map[float64]bool{}
	for _, r := range rates {
		most = max(most, r.DischargeM3D)
	}
	for _, i := range used {
		if _, q := logOf(rates, readings[i].Days); q > 0 {
			different[q] = true
		}
	}
	unknowns := 2
	if len(different) > 1 {
		unknowns = 3
	}
	if len(used) < unknowns+3 {
		return Varied{}, ErrTooFew
	}
	x, y := mat.NewDense(len(used), unknowns, nil), mat.NewVecDense(len(used), nil)
	for row, i := range used {
		h, q := logOf(rates, readings[i].Days)
		for k, value := range []float64{h / most, q / most, q * q / (most * most)}[:unknowns] {
			x.Set(row, k, value)
		}
		y.SetVec(row, readings[i].DrawdownM)
	}
	return solved(rates, most, x, y, used)
}

func solved(rates []Rate, most float64, x *mat.Dense, y *mat.VecDense, used []int) (Varied, error) {
	n, unknowns := x.Dims()
	var square, inverse mat.Dense
	var best, said mat.VecDense
	square.Mul(x.T(), x)
	if inverse.Inverse(&square) != nil || best.SolveVec(x, y) != nil {
		return Varied{}, ErrNoAnswer
	}
	said.MulVec(x, &best)
	rest := make([]float64, n)
	for i := range rest {
		rest[i] = y.AtVec(i) - said.AtVec(i)
	}
	dof := n - unknowns
	variance := sumSquares(rest) / float64(dof) * alike(rest)
	inverse.Scale(variance, &inverse)
	v := Varied{rates: rates, a: best.AtVec(0) / most, b: best.AtVec(1) / most}
	v.Used, v.RMSM = used, math.Sqrt(sumSquares(rest)/float64(n))
	v.Signs = doubts(rest, y.RawVector().Data)
	var err error
	if v.T, err = fitted(1/(4*math.Pi*v.a), math.Sqrt(inverse.At(0, 0))/best.AtVec(0), dof); err != nil || unknowns < 3 {
		return v, err
	}
	v.c = best.AtVec(2) / (most * most)
	loss, err := v.losses(&best, &inverse, most, dof)
	if err == nil {
		v.Losses = geo.Some(loss)
	}
	return v, nil
}

// losses are what the well takes: B stands for the time when the first rate ended.
func (v Varied) losses(best *mat.VecDense, covariance *mat.Dense, most float64, dof int) (StepFit, error) {
	log := 0.0
	if len(v.rates) > 1 {
		log = math.Log(v.rates[1].FromDays - v.rates[0].FromDays)
	}
	b := best.AtVec(0)*log + best.AtVec(1)
	seB := math.Sqrt(log*log*covariance.At(0, 0) + covariance.At(1, 1) + 2*log*covariance.At(0, 1))
	f := StepFit{C: v.c, CErr: math.Sqrt(covariance.At(2, 2)) / (most * most), Power: 2, RMSM: v.RMSM}
	f.CLo, f.CHi = f.C-student(dof)*f.CErr, f.C+student(dof)*f.CErr
	var err error
	f.B, err = fitted(b/most, seB/b, dof)
	return f, err
}
