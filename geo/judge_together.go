package geo

import "math"

// The messages of [JudgeTogether]; "sum" is the sum of the ratios, a [Number].
const (
	NitrogenWithin   Code = "water.nitrate-nitrite-within"
	NitrogenAbove    Code = "water.nitrate-nitrite-above"
	NitrogenNotKnown Code = "water.nitrate-nitrite-not-known"
)

// nitrogen are the analytes that act together.
var nitrogen = []string{"nitrate", "nitrite"}

// JudgeTogether holds the nitrate and the nitrite of one bottle against their guideline
// values together: both do the same harm to infants, so that the sum of the two results,
// each as a share of its own guideline value, may not exceed 1. The highest of several
// results of one analyte counts. The verdict is [NotKnown] where one of the two, its basis
// or a coarse detection limit would decide and is not known; [Above] where what is known
// is too much already.
//
// Source: World Health Organization, Guidelines for drinking-water quality, 4th edition,
// chapter 12, nitrate and nitrite (the rule from memory, the values as of the analytes).
func JudgeTogether(bottle []Sample) (Verdict, Message) {
	least, most := 0.0, 0.0
	for _, code := range nitrogen {
		lo, hi := shareOf(code, bottle)
		least, most = least+lo, most+hi
	}
	switch {
	case least > 1:
		return Above, Say(NitrogenAbove, With("sum", Number(least)))
	case most <= 1:
		return Within, Say(NitrogenWithin, With("sum", Number(most)))
	}
	return NotKnown, Say(NitrogenNotKnown)
}

// shareOf returns the least and the most that the results of an analyte may be of its
// guideline value: from 0 to without bound where there are none.
func shareOf(code string, bottle []Sample) (least, most float64) {
	found := false
	for _, s := range bottle {
		a, named, ok := FindAnalyte(s.Analyte)
		if !ok || a.Code != code {
			continue
		}
		if s.Basis == "" {
			s.Basis = named
		}
		if lo, hi, ok := a.share(s); ok {
			least, most, found = max(least, lo), max(most, hi), true
		}
	}
	if !found {
		return 0, math.Inf(1)
	}
	return least, most
}

// share returns the range of a result as a share of the analyte's guideline value, over
// all bases where none is said; not ok where it has no result in a unit of it.
func (a Analyte) share(s Sample) (least, most float64, ok bool) {
	v, exact := s.Value.Get()
	if !exact {
		if v, ok = s.DetectionLimit.Get(); !ok {
			return 0, 0, false
		}
	}
	bases := []string{s.Basis}
	if s.Basis == "" {
		for basis := range a.Bases {
			bases = append(bases, basis)
		}
	}
	least = math.Inf(1)
	for _, basis := range bases {
		in, err := a.In(v, s.Unit, basis)
		if err != nil {
			return 0, 0, false
		}
		share := in / a.Limits[0].High.Or(math.Inf(1)) // the first limit is that of health
		least, most = min(least, share), max(most, share)
	}
	if !exact {
		least = 0
	}
	return least, most, true
}
