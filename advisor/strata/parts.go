package strata

import "waterstrike/geo/soil"

// Parts is a statement taken apart into the chains that it mixes, for whoever carries it
// away from the records.
type Parts struct {
	First [soil.Count]float64                    // odds of the first cell, by what all logs say together
	Steps [Cells][soil.Count][soil.Count]float64 // Steps[z][j][k]: class k in cell z under class j; Steps[0] is not used
	Rest  float64                                // share of that chain; with the shares of the logs it adds up to 1
	Logs  []LogPart
}

// LogPart is one log that is taken as it is.
type LogPart struct {
	Near  int // place of the log among those given
	Share float64
	Runs  []Run
	Below *[soil.Count]float64 // odds of the cell below its end, where something refused the bit; else nil
}

// Run is a range of cells, To not included, that were described as one class, with the odds
// of what it is: 0 but for the class and what crews mistake it for.
type Run struct {
	Class    soil.Class
	From, To int
	Odds     [soil.Count]float64
}

// Parts takes the statement apart; near are the logs that it was made from.
//
//   - Units: shares and odds of [0,1].
//   - Source: the mixture of [Model.At].
//   - Checked by: TestPartsHaveTheOdds.
func (s *Statement) Parts(near []Near) Parts {
	var out Parts
	for i := range s.parts {
		p := &s.parts[i]
		if p.near == rest {
			out.First, out.Rest = p.first, p.share
			for z := 1; z < Cells; z++ {
				out.Steps[z] = *p.step[z]
			}
			continue
		}
		out.Logs = append(out.Logs, p.taken(near[p.near].Log))
	}
	return out
}

func (p *part) taken(log Log) LogPart {
	out := LogPart{Near: p.near, Share: p.share}
	for _, layer := range log.intervals() {
		odds := p.first
		if layer.from > 0 {
			odds = p.step[layer.from][0] // the same below every class
		}
		out.Runs = append(out.Runs, Run{layer.class, layer.from, layer.to, odds})
	}
	if end := log.last() + 1; log.Refused && end > 0 && end < Cells {
		below := p.step[end].forward(&out.Runs[len(out.Runs)-1].Odds)
		out.Below = &below
	}
	return out
}

// Naming returns the chance that a crew names a class (the row) as each class (the
// column); a layer that is named so is meant by the same numbers.
//
//   - Units: shares; each row adds up to 1.
//   - Source: common practice, no source.
//   - Checked by: TestPartsHaveTheOdds.
func Naming() (out [soil.Count][soil.Count]float64) {
	for i, class := range soil.Known() {
		out[i] = meant(class)
	}
	return out
}

// Struck returns how readily water enters from each class.
//
//   - Units: shares of the times that it is there to enter.
//   - Source: common practice, no source.
//   - Checked by: TestPartsHaveTheOdds.
func Struck() [soil.Count]float64 { return struck }

// UsualMinutes returns how long hand tools take for a metre of each class, and the spread
// of its logarithm.
//
//   - Units: minutes; standard deviation of ln(minutes).
//   - Source: common practice, no source.
//   - Checked by: TestPartsHaveTheOdds.
func UsualMinutes() (minutes [soil.Count]float64, spread float64) { return usualMinutes, paceSpread }
