package level

import "gonum.org/v1/gonum/mat"

// alikeTerms is added to the variance of each term where it is asked how unusual one is:
// terms that are nearly one another's sums would make little of much.
const alikeTerms = 0.02

// measure learns what land is usual among places.
func (t *trend) measure(places []Land) {
	covariance := mat.NewSymDense(landTerms, nil)
	n := 0.0
	for _, l := range places {
		if l.known {
			covariance.SymRankOne(covariance, 1, mat.NewVecDense(landTerms, t.drift(l)))
			n++
		}
	}
	covariance.ScaleSym(1/n, covariance)
	for k := range landTerms {
		covariance.SetSym(k, k, covariance.At(k, k)+alikeTerms)
	}
	t.usual = &mat.Cholesky{}
	t.usual.Factorize(covariance)
	for _, l := range places {
		if l.known {
			t.mostly += t.unlike(l) / n
		}
	}
}

// unlike is the square of Mahalanobis' distance of a place from the readings.
func (t *trend) unlike(l Land) float64 {
	var solved mat.VecDense
	row := mat.NewVecDense(landTerms, t.drift(l))
	if t.usual.SolveVecTo(&solved, row) != nil {
		return t.mostly
	}
	return mat.Dot(row, &solved)
}

// mostUnlike limits how unusual a place may be: beyond what readings have met nothing tells.
const mostUnlike = 5

// unusual is how unusual the land of a place is among that of the readings, which is 1 on
// average and where nothing is known of it.
func (t *trend) unusual(l Land) float64 {
	if t.flat || !l.known || !(t.mostly > 0) {
		return 1
	}
	return min(t.unlike(l)/t.mostly, mostUnlike)
}
