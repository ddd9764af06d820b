package check

import "waterstrike/geo"

// middle is the median of some values and how many there are.
type middle struct {
	value float64
	n     int
}

func middleOf(values []float64) middle {
	if len(values) == 0 {
		return middle{}
	}
	return middle{median(values), len(values)}
}

// fewestApart is how many values of a source are held against those of another: the
// median of fewer wanders.
const fewestApart = 15

// apart reports a source whose median stands to those of most other sources in a ratio
// between two. Where only two sources are known, either may be the one that is wrong.
func (s *survey) apart(at int, of func(*origin) middle, least, most float64) bool {
	own := of(&s.origins[at])
	if own.n < fewestApart {
		return false
	}
	others, off := 0, 0
	for i := range s.origins {
		other := of(&s.origins[i])
		if i == at || other.n < fewestApart {
			continue
		}
		others++
		if ratio := own.value / other.value; ratio >= least && ratio <= most {
			off++
		}
	}
	return 2*off > others
}

// compared tells what is wrong with a source when its bores are held against those of all
// others, wherever they lie.
func (s *survey) compared(at int) (found []geo.Issue) {
	const yieldTimes, never = 15.0, 1e9 // litres a minute are 60 times as many as a second
	o := &s.origins[at]
	name := geo.With("value", geo.Text(o.name()))
	yield := func(o *origin) middle { return o.habits.yield }
	if s.apart(at, yield, yieldTimes, never) || s.apart(at, yield, 0, 1/yieldTimes) {
		found = append(found, issueOf(SourceYield, geo.With("yield", geo.LPS(o.habits.yield.value)), name))
	}
	deeper := s.apart(at, func(o *origin) middle { return o.habits.depth }, leastFeet, mostFeet)
	if deeper && !o.inFeet() && s.apart(at, func(o *origin) middle { return o.habits.level }, leastLevelFeet, mostBoreFeet) {
		found = append(found, issueOf(SourceInFeet, name))
	}
	return found
}
