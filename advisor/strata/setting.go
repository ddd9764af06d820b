package strata

import "math"

// Setting is the shape of the land at a place, as terms that its layers may follow: numbers
// in any unit, the same ones in the same order at every place. The nil Setting is not known.
type Setting []float64

// bends are the terms of the land with their squares and products, each as standard
// deviations from its mean among the logs: ground on the floor of a valley is another on a
// slope and on the plain above it, which no straight line tells.
type bends struct {
	terms, all standard
}

// standard is the mean and the standard deviation of each of some numbers.
type standard struct{ mean, sd []float64 }

// farSD limits how many standard deviations a term goes from its mean: beyond what logs
// have met, layers stay as they are.
const farSD = 3.0

// leastSD is the standard deviation below which a term is the same everywhere.
const leastSD = 1e-9

func standardOf(rows [][]float64) standard {
	n := len(rows[0])
	s := standard{make([]float64, n), make([]float64, n)}
	for k := range n {
		sum, square := 0.0, 0.0
		for _, row := range rows {
			sum += row[k]
			square += row[k] * row[k]
		}
		s.mean[k] = sum / float64(len(rows))
		s.sd[k] = math.Sqrt(max(square/float64(len(rows))-s.mean[k]*s.mean[k], 0))
	}
	return s
}

// of appends numbers in their standard deviations.
func (s standard) of(out, row []float64) []float64 {
	for k, sd := range s.sd {
		z := 0.0
		if sd > leastSD {
			z = max(-farSD, min((row[k]-s.mean[k])/sd, farSD))
		}
		out = append(out, z)
	}
	return out
}

// bendsOf measures the terms of the logs.
func bendsOf(settings []Setting) bends {
	rows := make([][]float64, len(settings))
	for i, s := range settings {
		rows[i] = s
	}
	b := bends{terms: standardOf(rows)}
	for i, s := range settings {
		rows[i] = products(b.terms.of(nil, s))
	}
	b.all = standardOf(rows)
	return b
}

// of returns the terms of a place with their squares and products.
func (b *bends) of(s Setting) []float64 {
	row := products(b.terms.of(make([]float64, 0, len(s)*(len(s)+3)/2), s))
	return b.all.of(row[:0], row)
}

// products appends to terms their squares and products.
func products(terms []float64) []float64 {
	n := len(terms)
	for i := range n {
		for j := i; j < n; j++ {
			terms = append(terms, terms[i]*terms[j])
		}
	}
	return terms
}
