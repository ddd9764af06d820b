package strata

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"waterstrike/geo/soil"
)

// Shares by hand: a log of 2 m clay and 1 m sand that was refused, 6 cells in all.
func TestSharesByHand(t *testing.T) {
	log := Log{Cells: []soil.Class{2, 2, 2, 2, 4, 4}, Refused: true}
	for _, c := range []struct {
		from, to            int
		clay, sand, refused float64
	}{
		{0, 2, 1, 0, 0},
		{2, 6, 0.5, 0.5, 1},
		{4, 8, 0, 1, 1}, // half of it is described
		{5, 9, math.NaN(), math.NaN(), 1},
		{6, 12, math.NaN(), math.NaN(), 1}, // refused at its top
		{7, 12, math.NaN(), math.NaN(), math.NaN()},
	} {
		classes, refused := log.within(c.from, c.to)
		for _, v := range [][2]float64{{classes[soil.Clay-1], c.clay}, {classes[soil.Sand-1], c.sand}, {refused, c.refused}} {
			if v[0] != v[1] && !(math.IsNaN(v[0]) && math.IsNaN(v[1])) {
				t.Errorf("cells %d to %d: clay %v, sand %v, refused %v", c.from, c.to, classes[soil.Clay-1], classes[soil.Sand-1], refused)
			}
		}
	}
	log.Refused = false
	if _, refused := log.within(2, 6); !math.IsNaN(refused) {
		t.Errorf("a log that ended of itself tells of refusal: %v", refused)
	}
}

// The ratio of variances is the one under which the responses are likeliest as one draw of
// a Normal with covariance σ² (I + ρ X X'), its density written out with a Cholesky factor.
func TestRidgeIsLikeliest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const n, p = 60, 3
	x := mat.NewDense(n, p, nil)
	y := mat.NewVecDense(n, nil)
	rows, response := make([][]float64, n), make([]float64, n)
	for i := range n {
		for k := range p {
			x.Set(i, k, rng.NormFloat64())
		}
		rows[i] = x.RawRowView(i)
		response[i] = 0.5*x.At(i, 0) - 0.2*x.At(i, 1) + 0.3*rng.NormFloat64()
	}
	mean, variance, _ := moments(response)
	for i, v := range response {
		y.SetVec(i, v-mean)
	}
	logLik := func(rho float64) float64 {
		var cov mat.SymDense
		cov.SymOuterK(rho, x)
		for i := range n {
			cov.SetSym(i, i, cov.At(i, i)+1)
		}
		var factor mat.Cholesky
		if !factor.Factorize(&cov) {
			t.Fatal("not positive definite")
		}
		var solved mat.VecDense
		if err := factor.SolveVecTo(&solved, y); err != nil {
			t.Fatal(err)
		}
		return -n/2.0*math.Log(mat.Dot(y, &solved)/n) - factor.LogDet()/2
	}
	b := ridge(rows, response)
	if b == nil || math.Abs(b[0]-0.5/0.3) > 0.3 || math.Abs(b[2]) > 0.3 { // two standard errors of 60 draws
		t.Fatalf("slopes %v", b)
	}
	var products mat.SymDense
	products.SymOuterK(1, x.T())
	var eigen mat.EigenSym
	eigen.Factorize(&products, true)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	var right, q mat.VecDense
	right.MulVec(x.T(), y)
	q.MulVec(vectors.T(), &right)
	ratio, _ := likeliestRatio(eigen.Values(nil), q.RawVector().Data, variance*n, n)
	for _, other := range []float64{ratio * math.Exp(0.25), ratio * math.Exp(-0.25), 0} {
		if logLik(other) > logLik(ratio) {
			t.Errorf("a ratio of %v is likelier than %v", other, ratio)
		}
	}
	if ridge(rows, make([]float64, n)) != nil {
		t.Error("slopes were learnt of nothing")
	}
}

// Sharpened odds add up to 1, favour what was likely, and are the same under a power of 0
// or where only the region speaks.
func TestSharpened(t *testing.T) {
	var logs []Log
	for i := range 30 {
		log := Log{Cells: make([]soil.Class, 20)}
		for z := range log.Cells {
			log.Cells[z] = []soil.Class{soil.Clay, soil.Sand}[i/20]
		}
		logs = append(logs, log)
	}
	around := func(int, float64) (out []Near) {
		for _, log := range logs[:24] {
			out = append(out, Near{Log: log, DistanceM: 200})
		}
		return out
	}
	m, _, err := Fit(t.Context(), logs, around)
	if err != nil {
		t.Fatal(err)
	}
	m.sharp = 0
	blunt := m.At(around(0, 0), nil).Odds
	for _, power := range []float64{0, 0.02, 0.1} {
		m.sharp = power
		if m.At(nil, nil).Odds != m.Profile() {
			t.Errorf("power %v: far from all logs the statement is not the profile", power)
		}
		for z, odds := range m.At(around(0, 0), nil).Odds {
			sum := 0.0
			for _, p := range odds {
				sum += p
			}
			sharper := odds[soil.Clay-1] > blunt[z][soil.Clay-1]
			if math.Abs(sum-1) > 1e-12 || power == 0 && odds != blunt[z] || power > 0 && z < 20 && !sharper {
				t.Fatalf("power %v, cell %d: %v were %v", power, z, odds, blunt[z])
			}
		}
	}
}
