package level

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// memories are the correlations of years that are tried.
var memories = [...]float64{0, 0.25, 0.5, 0.7, 0.85}

// yearFit is the effects of years, averaged over spreads and memories by how likely the
// readings are under each.
type yearFit struct {
	gain, sd, memory float64
	effects          *mat.VecDense
	cov              *mat.SymDense
	prior            *mat.SymDense // covariance of the effects before anything was read
}

// likelyYears tries spreads and memories given the information B and right side g of the
// effects. With Σ = L L' and M = I + L'BL,
//
//	gain = -½ log|M| + ½ g'L M⁻¹ L'g,  e = L M⁻¹ L'g,  cov = L M⁻¹ L'.
//
// A few years do not tell their spread and memory well, and by how much their mean misses a
// normal year hangs on both: so all are averaged. The gain is that of the likeliest.
func likelyYears(information *mat.SymDense, right *mat.VecDense) yearFit {
	var tried []yearFit
	best := math.Inf(-1)
	for _, memory := range memories {
		var factor mat.Cholesky
		correlation := correlations(right.Len(), memory)
		if !factor.Factorize(correlation) {
			continue
		}
		var lower mat.TriDense
		factor.LTo(&lower)
		var half, whole mat.Dense
		half.Mul(information, &lower)
		whole.Mul(lower.T(), &half)
		var turned mat.VecDense
		turned.MulVec(lower.T(), right)
		for step := range yearSpreads {
			sd := leastSpreadM * math.Pow(spreadStep, float64(step))
			off := math.Log(sd/likeliestYear) / yearKnownLog
			if fit, ok := yearsOf(&lower, &whole, &turned, sd); ok {
				fit.memory, fit.prior = memory, mat.NewSymDense(right.Len(), nil)
				fit.prior.ScaleSym(sd*sd, correlation)
				fit.gain -= off * off / 2
				best = max(best, fit.gain)
				tried = append(tried, fit)
			}
		}
	}
	return averaged(tried, best, right.Len())
}

// correlations are those of n years after one another.
func correlations(n int, memory float64) *mat.SymDense {
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			out.SetSym(i, j, math.Pow(memory, float64(i-j)))
		}
	}
	return out
}

// averaged is the mean of fits by their likelihood, what they differ by added to what is
// not known of the effects.
func averaged(tried []yearFit, best float64, n int) yearFit {
	out := yearFit{gain: best, effects: mat.NewVecDense(n, nil), cov: mat.NewSymDense(n, nil), prior: mat.NewSymDense(n, nil)}
	total := 0.0
	for _, fit := range tried {
		w := math.Exp(fit.gain - best)
		total += w
		out.sd += w * fit.sd
		out.memory += w * fit.memory
		out.effects.AddScaledVec(out.effects, w, fit.effects)
		fit.cov.SymRankOne(fit.cov, 1, fit.effects)
		for _, sum := range []struct{ to, of *mat.SymDense }{{out.cov, fit.cov}, {out.prior, fit.prior}} {
			sum.of.ScaleSym(w, sum.of)
			sum.to.AddSym(sum.to, sum.of)
		}
	}
	if total > 0 {
		out.sd, out.memory = out.sd/total, out.memory/total
		out.effects.ScaleVec(1/total, out.effects)
		out.cov.ScaleSym(1/total, out.cov)
		out.cov.SymRankOne(out.cov, -1, out.effects)
		out.prior.ScaleSym(1/total, out.prior)
	}
	return out
}

// yearsOf solves for one spread.
func yearsOf(lower *mat.TriDense, whole *mat.Dense, turned *mat.VecDense, sd float64) (out yearFit, ok bool) {
	n := turned.Len()
	m := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			m.SetSym(i, j, sd*sd*whole.At(i, j))
		}
		m.SetSym(i, i, 1+m.At(i, i))
	}
	var factor mat.Cholesky
	if !factor.Factorize(m) {
		return out, false
	}
	var solved mat.VecDense
	if factor.SolveVecTo(&solved, turned) != nil {
		return out, false
	}
	out.sd = sd
	out.gain = (sd*sd*mat.Dot(turned, &solved) - factor.LogDet()) / 2
	out.effects = mat.NewVecDense(n, nil)
	out.effects.MulVec(lower, &solved)
	out.effects.ScaleVec(sd*sd, out.effects)
	var inverse mat.SymDense
	if factor.InverseTo(&inverse) != nil {
		return out, false
	}
	var half, whole2 mat.Dense
	half.Mul(lower, &inverse)
	whole2.Mul(&half, lower.T())
	out.cov = mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			out.cov.SetSym(i, j, sd*sd*whole2.At(i, j))
		}
	}
	return out, true
}
