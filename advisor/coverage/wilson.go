package coverage

import "math"

// Interval is a 95 % interval.
type Interval struct {
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
}

// z95 is the quantile of a standard Normal at 0.975.
const z95 = 1.959963984540054

// Wilson returns the 95 % interval of a share of which k in n were seen,
//
//		(p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n),  p = k/n.
//
//	  - Units: a share in [0,1].
//	  - Domain: 0 <= k <= n; all of [0,1] where nothing was seen. It takes the cases as
//	    independent: bores of one valley are less so, and the truth is wider.
//	  - Source: Wilson (1927), J. Am. Stat. Assoc. 22:209-212; without continuity correction.
//	  - Checked by: TestWilsonAgainstR.
func Wilson(k, n int) Interval {
	if n == 0 {
		return Interval{0, 1}
	}
	const z2 = z95 * z95
	p, m := float64(k)/float64(n), float64(n)
	mid := (p + z2/(2*m)) / (1 + z2/m)
	half := z95 / (1 + z2/m) * math.Sqrt(p*(1-p)/m+z2/(4*m*m))
	return Interval{max(mid-half, 0), min(mid+half, 1)}
}
