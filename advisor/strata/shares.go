package strata

import "math"

// spans are the ranges of depth, in cells, whose shares of the classes are foretold.
var spans = [...]struct{ from, to int }{{0, 2}, {2, 6}, {6, 12}, {12, 20}, {20, 30}}

// shares lists, for each class and span and for refusal in each span, what each log has of
// it; NaN for a log that does not tell.
func shares(logs []Log) (out [][]float64) {
	for _, span := range spans {
		var of [len(row{}) + 1][]float64
		for _, log := range logs {
			known, refused := log.within(span.from, span.to)
			for k, share := range known {
				of[k] = append(of[k], share)
			}
			of[len(known)] = append(of[len(known)], refused)
		}
		out = append(out, of[:]...)
	}
	return out
}

// within returns the shares of the classes among a log's described cells of a span, NaN
// where less than half of it is described, and whether the log was refused in it: 1 or 0,
// NaN where the log had ended before.
func (log Log) within(from, to int) (classes row, refused float64) {
	cells, n := log.cells(), 0.0
	for z := from; z < min(to, len(cells)); z++ {
		if known(cells[z]) {
			classes[cells[z]-1]++
			n++
		}
	}
	for k := range classes {
		classes[k] /= n
		if 2*n < float64(to-from) {
			classes[k] = math.NaN()
		}
	}
	switch end := log.last() + 1; {
	case end < from || end <= to && !log.Refused:
		return classes, math.NaN()
	case end <= to:
		return classes, 1
	}
	return classes, 0
}
