package method

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The spread between crews, and that between holes of one crew, are expected at usualSD on
// the log scale, a fifth of the pace, and known to a factor of e^usualSDSD. usualVariance is
// what their variance is then expected at. Common practice, no source.
const (
	usualSD       = 0.2
	usualSDSD     = 0.5
	usualVariance = usualSD * usualSD * 1.6487212707001282 // exp(2·usualSDSD²)
)

// mixed are readings of a linear mixed model with a random effect for each crew, as sums:
// y = μ(cell) + u(crew) + e, with μ ~ N(0, prior).
type mixed struct {
	prior  []float64 // variance of each cell's mean
	n      [][]float64
	sum    [][]float64 // by crew, then cell
	square float64     // of all readings
	total  float64     // number of readings
}

func (d *mixed) add(crew, cell int, y float64) {
	for len(d.n) <= crew {
		d.n, d.sum = append(d.n, nil), append(d.sum, nil)
	}
	for len(d.n[crew]) <= cell {
		d.n[crew], d.sum[crew] = append(d.n[crew], 0), append(d.sum[crew], 0)
	}
	d.n[crew][cell]++
	d.sum[crew][cell] += y
	d.square += y * y
	d.total++
}

// state is the posterior at one pair of variances.
type state struct {
	crewVar, holeVar float64
	weight           float64
	mean             []float64     // of each cell
	cov              *mat.SymDense // of the means; nil without readings
}

// posterior is a mixture of states, and what the crews logged.
type posterior struct {
	states []state
	data   *mixed
}

// fit weighs the grid of variances by their likelihood and prior.
func (d *mixed) fit() posterior {
	p := posterior{data: d}
	best := math.Inf(-1)
	var logs []float64
	for _, crewSD := range gridSD() {
		for _, holeSD := range gridSD() {
			s, logLikelihood := d.at(crewSD*crewSD, holeSD*holeSD)
			log := logLikelihood + logPrior(crewSD) + logPrior(holeSD)
			p.states, logs = append(p.states, s), append(logs, log)
			best = max(best, log)
		}
	}
	total := 0.0
	for i := range p.states {
		p.states[i].weight = math.Exp(logs[i] - best)
		total += p.states[i].weight
	}
	for i := range p.states {
		p.states[i].weight /= total
	}
	return p
}

// gridSD are the standard deviations that are tried, evenly spaced in the logarithm.
func gridSD() []float64 {
	const lowest, highest, steps = 0.04, 1.6, 15
	out := make([]float64, steps)
	for i := range out {
		out[i] = lowest * math.Pow(highest/lowest, float64(i)/(steps-1))
	}
	return out
}

// logPrior is the logarithm of a log-normal density over an evenly spaced grid.
func logPrior(sd float64) float64 {
	z := math.Log(sd/usualSD) / usualSDSD
	return -z * z / 2
}

// at solves the model for given variances of crews and holes and returns the logarithm of
// the likelihood with means and crews integrated out. With V the covariance within a crew,
//
//	V⁻¹ = (I - k 11ᵀ)/σ²,  k = τ²/(σ² + N τ²),  det V = σ²⁽ᴺ⁻¹⁾(σ² + N τ²).
//
// Source: Searle, Casella and McCulloch (1992), the one-way model, from memory.
func (d *mixed) at(crewVar, holeVar float64) (state, float64) {
	s := state{crewVar: crewVar, holeVar: holeVar}
	k := len(d.prior)
	if k == 0 {
		return s, 0
	}
	a, b := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	quadratic := d.square
	logDet := d.total * math.Log(holeVar)
	for c, v := range d.prior {
		a.SetSym(c, c, 1/v)
		logDet += math.Log(v)
	}
	for i, n := range d.n {
		count, sum := total(n), total(d.sum[i])
		shrink := crewVar / (holeVar + count*crewVar)
		logDet += math.Log1p(count * crewVar / holeVar)
		quadratic -= shrink * sum * sum
		for c, nc := range n {
			a.SetSym(c, c, a.At(c, c)+nc/holeVar)
			b.SetVec(c, b.AtVec(c)+(d.sum[i][c]-shrink*nc*sum)/holeVar)
			for e := c; e < len(n); e++ {
				a.SetSym(c, e, a.At(c, e)-shrink*nc*n[e]/holeVar)
			}
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(a) {
		// The sum of a positive diagonal and covariances: only a broken promise gets here.
		panic("method: the normal equations of the pace are not positive definite")
	}
	var mean mat.VecDense
	s.cov = new(mat.SymDense)
	if err := factor.SolveVecTo(&mean, b); err != nil {
		panic(err)
	}
	if err := factor.InverseTo(s.cov); err != nil {
		panic(err)
	}
	s.mean = mean.RawVector().Data
	return s, -(logDet + factor.LogDet() + quadratic/holeVar - mat.Dot(b, &mean)) / 2
}

func total(v []float64) (sum float64) {
	for _, x := range v {
		sum += x
	}
	return sum
}

// at returns mean and variance of a new hole's reading: of a crew (-1: of one not known) in
// a cell (-1: one without readings, whose mean has the given variance).
func (p posterior) at(crew, cell int, prior float64) (mean, variance float64) {
	var square float64
	for _, s := range p.states {
		m, v := s.at(p.data, crew, cell, prior)
		mean += s.weight * m
		square += s.weight * (v + m*m)
	}
	return mean, max(0, square-mean*mean)
}

func (s state) at(d *mixed, crew, cell int, prior float64) (mean, variance float64) {
	part := make([]float64, len(d.prior)) // of the means in what is asked
	variance = s.crewVar + s.holeVar
	if cell >= 0 {
		part[cell] = 1
	} else {
		variance += prior
	}
	if crew >= 0 {
		n := d.n[crew]
		shrink := s.crewVar / (s.holeVar + total(n)*s.crewVar)
		mean = shrink * total(d.sum[crew])
		variance += shrink*s.holeVar - s.crewVar
		for c, nc := range n {
			part[c] -= shrink * nc
		}
	}
	for c, x := range part {
		mean += x * s.mean[c]
		for e, y := range part {
			variance += x * y * s.cov.At(c, e)
		}
	}
	return mean, variance
}
