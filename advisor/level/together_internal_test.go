package level

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/advisor/variogram"
	"waterstrike/geo"

	"gonum.org/v1/gonum/mat"
)

// readings is a region whose low deepens eastwards, read at n places.
func readings(n int, rng *rand.Rand) (obs []Observation) {
	for range n {
		at := variogram.XY{X: rng.Float64() * 20000, Y: rng.Float64() * 20000}
		depth := (4 + 8*at.X/20000) * math.Exp(0.3*math.Sin(at.Y/3000)+0.1*rng.NormFloat64())
		obs = append(obs, Observation{At: at, DepthM: depth, On: geo.Date{Month: int(time.May)}})
	}
	return obs
}

// The draws go together as the errors of kriging do,
//
//	E[ε(p) ε(q)] = C(p,q) - λp·c(q) - λq·c(p) + λp' K λq,
//
// worked out term by term from the same weights: Chilès and Delfiner (2012), section 3.4.
func TestTogetherFollowsTheModel(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	obs := readings(60, rng)
	m, _, err := Fit(t.Context(), obs, DefaultSeason(1))
	if err != nil {
		t.Fatal(err)
	}
	obs = obs[:24] // few enough that every place sees all of them
	var places []Place
	for _, at := range []variogram.XY{{X: 4000, Y: 4000}, {X: 4200, Y: 4000}, {X: 6000, Y: 5000}, {X: 16000, Y: 15000}} {
		places = append(places, Place{At: at, Near: obs})
	}
	const n = 4000
	said, draws, err := m.Together(places, n, rng)
	if err != nil {
		t.Fatal(err)
	}
	var answers []answer
	for i, p := range places {
		a, err := m.solve(p.Near, p.At, p.Land)
		if err != nil {
			t.Fatal(err)
		}
		if b := said[i]; a.Mean != b.Mean || a.FieldVar != b.FieldVar || a.MicroVar != b.MicroVar {
			t.Errorf("place %d: %+v together, %+v alone", i, said[i].Distribution, a.Distribution)
		}
		answers = append(answers, a)
	}
	const tol = 0.06 // nearly four standard errors of a correlation from 4,000 draws
	for i := range places {
		for j := range places {
			want := math.Sqrt(answers[i].wider*answers[j].wider) * m.errorCov(places[i], places[j], answers[i], answers[j]) / math.Sqrt(answers[i].FieldVar*answers[j].FieldVar)
			got := 0.0
			for s := range n {
				got += draws[i][s] * draws[j][s] / n
			}
			if math.Abs(got-want) > tol {
				t.Errorf("places %d and %d: %.3f, want %.3f", i, j, got, want)
			}
		}
	}
}

// errorCov is the covariance of the errors of two answers that see the same readings.
func (m *Model) errorCov(p, q Place, a, b answer) float64 {
	n := len(a.place)
	k := mat.NewSymDense(n, nil)
	cp, cq := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i, x := range a.place {
		for j, y := range a.place[:i+1] {
			k.SetSym(i, j, m.likeness(p.Near[x].At, p.Near[y].At))
		}
		k.SetSym(i, i, k.At(i, i)+m.micro+a.errVars[i])
		cp.SetVec(i, m.likeness(p.At, p.Near[x].At))
		cq.SetVec(i, m.likeness(q.At, p.Near[x].At))
	}
	la, lb := mat.NewVecDense(n, a.weights), mat.NewVecDense(n, b.weights)
	return m.likeness(p.At, q.At) - mat.Dot(la, cq) - mat.Dot(lb, cp) + mat.Inner(la, k, lb)
}

// A place asked twice errs the same way twice, and every place has a mean of 0 and a
// variance of 1 over the pictures, however few they are.
func TestTogetherIsEachAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	obs := readings(80, rng)
	m, _, err := Fit(t.Context(), obs, DefaultSeason(1))
	if err != nil {
		t.Fatal(err)
	}
	at := variogram.XY{X: 9000, Y: 9000}
	other := variogram.XY{X: 15000, Y: 2000}
	_, draws, err := m.Together([]Place{{At: at, Near: obs[:32]}, {At: at, Near: obs[:32]}, {At: other, Near: obs[32:64]}}, 64, rng)
	if err != nil {
		t.Fatal(err)
	}
	for i, z := range draws {
		sum, square := 0.0, 0.0
		for s, v := range z {
			sum, square = sum+v, square+v*v
			if i == 1 && math.Abs(v-draws[0][s]) > 1e-9 {
				t.Fatalf("picture %d: %g and %g at one place", s, draws[0][s], v)
			}
		}
		if math.Abs(sum) > 1e-9 || math.Abs(square/64-1) > 1e-9 {
			t.Errorf("place %d: sum %g, variance %g", i, sum, square/64)
		}
	}
}
