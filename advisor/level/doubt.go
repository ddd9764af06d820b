package level

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// doubt is how much wider answers are than the model alone makes them, by what readings
// that were left out with all around them have met: the variance of what is not known is
// multiplied by
//
//	exp(α + γ (u - 1)),
//
// with u how unusual the land of the place is among that of the readings, 1 on average.
// Bores stand where people expected water. Where they do not stand, on ridges and on floors
// that flood, the trend is carried farther than the readings' own luck tells.
type doubt struct{ all, unusual float64 }

// at returns the factor at a place.
func (d doubt) at(unusual float64) float64 { return math.Exp(d.all + d.unusual*(unusual-1)) }

// Doubt says how much wider ranges are than likeness and trend alone make them, by readings
// that were left out with all around them.
type Doubt struct {
	Usual   float64 `json:"usual"`   // factor of the standard deviation on land like that of the readings
	Unusual float64 `json:"unusual"` // the same where the land is three times as unusual
}

func (d doubt) report() Doubt { return Doubt{math.Sqrt(d.at(1)), math.Sqrt(d.at(3))} }

// What factors are tried, and what is known of them beforehand: the spread of α and of γ.
// Common practice, no source.
const (
	doubtStep    = 0.05
	leastAll     = -12 // steps
	mostAll      = 20
	mostUnusual  = 16
	doubtAll     = 0.3
	doubtUnusual = 0.3
	ofBlock      = 3.0 // readings in a block, on average
)

// learnDoubt takes the likeliest factors for readings left out by squares of land, so large
// that a reading's neighbours go with it and it is asked about as a new place would be,
//
//	log L = -½ Σ (log t + e²/t),  t = w + (v - w) exp(α + γ (u - 1)),
//
// with e by how much the others miss a reading, v the variance that they give it and w that
// of the reading itself.
//
//   - Errors: [variogram.ConditionError].
//   - Cost: O(n³).
//   - Source: leaving out a block in closed form, e_B = [P_BB]⁻¹ [P z]_B with the variances
//     [P_BB]⁻¹, P the inverse of the covariances with the mean taken out, Dubrule (1983).
//   - Checked by: TestBlocksLeftOut, TestDoubtIsLearned.
func (f *fitting) learnDoubt() error {
	f.doubt = doubt{}
	off, variance, err := f.blocksLeftOut()
	if err != nil {
		return err
	}
	unusual := make([]float64, len(f.lands))
	for i, l := range f.lands {
		unusual[i] = f.trend.unusual(l)
	}
	best, most := math.Inf(-1), mostUnusual
	if f.trend.flat {
		most = 0
	}
	for a := leastAll; a <= mostAll; a++ {
		for u := range most + 1 {
			d := doubt{float64(a) * doubtStep, float64(u) * doubtStep}
			ll := -(square(d.all/doubtAll) + square(d.unusual/doubtUnusual)) / 2
			for i, v := range variance {
				if v <= 0 { // nothing was left to tell it from
					continue
				}
				t := f.errVars[i] + max(v-f.errVars[i], leastVar)*d.at(unusual[i])
				ll -= (math.Log(t) + off[i]*off[i]/t) / 2
			}
			if ll > best {
				best, f.doubt = ll, d
			}
		}
	}
	return nil
}

// blocksLeftOut returns by how much the readings outside its square of land miss each
// reading, and the variance that they give it; that is 0 where there are none.
func (f *fitting) blocksLeftOut() (off, variance []float64, err error) {
	data := f.data()
	n := len(data)
	k := covariances(data, f.structure)
	rows := make([][]float64, n)
	for i, l := range f.lands {
		rows[i] = f.trend.row(l)
	}
	for i := range n {
		for j := range i + 1 {
			k.SetSym(i, j, k.At(i, j)+f.trend.before(rows[i], rows[j]))
		}
	}
	var factor mat.Cholesky
	var p mat.SymDense
	if !factor.Factorize(k) {
		return nil, nil, conditionError(math.Inf(1))
	}
	if factor.InverseTo(&p) != nil {
		return nil, nil, conditionError(factor.Cond())
	}
	ones, sums := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		ones.SetVec(i, 1)
	}
	sums.MulVec(&p, ones)
	p.SymRankOne(&p, -1/mat.Sum(sums), sums)
	var solved mat.VecDense
	solved.MulVec(&p, mat.NewVecDense(n, f.values))
	off, variance = make([]float64, n), make([]float64, n)
	for _, block := range f.blocks() {
		leftOut(&p, &solved, block, off, variance)
	}
	return off, variance, nil
}

// leftOut fills in what the others say of the data of a block, where there are others.
func leftOut(p *mat.SymDense, solved *mat.VecDense, block []int, off, variance []float64) {
	own, right := mat.NewSymDense(len(block), nil), mat.NewVecDense(len(block), nil)
	for a, i := range block {
		for b, j := range block[:a+1] {
			own.SetSym(a, b, p.At(i, j))
		}
		right.SetVec(a, solved.AtVec(i))
	}
	var factor mat.Cholesky
	var miss mat.VecDense
	var inverse mat.SymDense
	if !factor.Factorize(own) || factor.SolveVecTo(&miss, right) != nil || factor.InverseTo(&inverse) != nil {
		return
	}
	for a, i := range block {
		off[i], variance[i] = miss.AtVec(a), inverse.At(a, a)
	}
}

// blocks sorts the readings into squares of land, in the order in which these are met.
func (f *fitting) blocks() (out [][]int) {
	side := math.Sqrt2 * f.halfM * math.Sqrt(ofBlock/float64(len(f.points)))
	if !(side > 0) {
		side = 1
	}
	at := map[[2]int]int{}
	for i, p := range f.points {
		square := [2]int{int(math.Floor(p.X / side)), int(math.Floor(p.Y / side))}
		k, met := at[square]
		if !met {
			k = len(out)
			at[square], out = k, append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}
