package hydraulics

import "math"

// Saying is how a bore speaks of the transmissivity behind its screen.
type Saying uint8

// The sayings.
const (
	Measured Saying = iota // T is near the value
	AtLeast                // T is not below it: the well gave as much as was asked
	AtMost                 // T is not above it: it did not
	Reported               // a yield without a drawdown: what the well could give, or what the pump took of more
)

// What is thought of reports before any is read; common practice, no source.
const (
	wrongly  = 0.1 // share of records that say nothing of their well: mixed up, misread, clogged
	openOver = 6.0 // decades over which such a record may lie
	takenOf  = 1.5 // decades over which what a pump takes lies below what the well could give
)

// limits are what is tried of the share of reported yields that are all that their wells could
// give. Before any is read each is as likely: half of them.
var limits = [...]float64{0.1, 0.3, 0.5, 0.7, 0.9}

// says is what one record says of log10 K of a layer.
type says struct {
	how     Saying
	log10   float64
	decades float64 // its standard error
	limit   float64 // of a reported yield: how likely it is all that there was
}

// moments are how likely a record is where log10 K is Normal, and the mean and the variance
// of log10 K after it.
//
// Source: products of Normal densities and of a Normal and a probit, Rasmussen and Williams
// (2006), section 3.9.
func (s says) moments(mean, variance float64) (likely, after, left float64) {
	total := math.Sqrt(variance + s.decades*s.decades)
	z := (s.log10 - mean) / total
	density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	var m mixed
	m.add(wrongly/openOver, mean, variance)
	near := func(share float64) {
		gain := variance / (total * total)
		m.add((1-wrongly)*share*density/total, mean+gain*(s.log10-mean), variance*(1-gain))
	}
	beyond := func(share, side float64) {
		p := math.Erfc(side*z/math.Sqrt2) / 2
		if p < 1e-12 {
			return
		}
		r := density / p
		m.add((1-wrongly)*share*p/takenOf, mean+side*variance*r/total, variance-variance*variance*r*(r-side*z)/(total*total))
	}
	switch s.how {
	case Measured:
		near(1)
	case AtLeast:
		beyond(1, 1)
	case AtMost:
		beyond(1, -1)
	case Reported:
		near(s.limit)
		beyond(1-s.limit, 1)
	}
	return m.moments()
}

// mixed adds up parts of a mixture.
type mixed struct{ weight, first, second float64 }

func (m *mixed) add(weight, mean, variance float64) {
	m.weight += weight
	m.first += weight * mean
	m.second += weight * (mean*mean + variance)
}

func (m *mixed) moments() (weight, mean, variance float64) {
	mean = m.first / m.weight
	return m.weight, mean, max(m.second/m.weight-mean*mean, 0)
}
