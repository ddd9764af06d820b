package strata

import (
	"math"
	"slices"

	"waterstrike/geo/soil"
)

// heldOut is how many logs are held out at most: enough to tell the choices apart.
const heldOut = 200

// trial is a log that is held out, with those that speak in its stead.
type trial struct {
	cells  []soil.Class
	layers []interval // of them
	*around
	alone bool // those close to it were hidden
}

// trials holds out logs, every other one together with those that stand close to it: a
// point without a bore is farther from the next one than a bore is.
func (m *Model) trials(logs []Log, described int, near Neighbours) (out []trial) {
	stride, passed := max(1, described/heldOut), 0
	hide := hidden(logs, stride, near)
	for i, log := range logs {
		if !log.Described() {
			continue
		}
		if passed++; (passed-1)%stride > 0 {
			continue
		}
		beyond := hide[len(out)%len(hide)]
		cells := log.cells()[:log.last()+1]
		out = append(out, trial{cells, log.intervals(), m.aroundLeaves(near(i, beyond), m.follows.without(i, log.Setting)), beyond > 0})
	}
	return out
}

// hidden returns the distances within which bores are hidden, in turn: none, and the usual
// distances of the 4th and of the 8th neighbour.
func hidden(logs []Log, stride int, near Neighbours) [3]float64 {
	var fourth, eighth []float64
	for i := 0; i < len(logs); i += stride {
		if around := near(i, 0); len(around) >= 8 {
			fourth = append(fourth, around[3].DistanceM)
			eighth = append(eighth, around[7].DistanceM)
		}
	}
	return [3]float64{0, median(fourth), median(eighth)}
}

func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	return values[len(values)/2]
}

// settled reports that the settings around a log are known.
func (t trial) settled() bool {
	return slices.ContainsFunc(t.apart, func(a float64) bool { return a > 0 })
}

// score is the loss of having said p for what was found, floored as every log score here.
func score(p float64) float64 { return -math.Log(max(p, 1e-4)) }

// heard is how likely ground of each class is called by a name: a log that is held out
// holds names.
var heard = func() (out [soil.Count + 1]row) {
	for k, class := range soil.Known() {
		for name, p := range meant(class) {
			out[name+1][k] = p
		}
	}
	return out
}()

// found returns the odds given to what was found, for every described cell.
func (t trial) found(odds []row) (out []float64) {
	for z, class := range t.cells {
		if known(class) {
			out = append(out, dot(odds[z][:], heard[class][:]))
		}
	}
	return out
}

// byDepth is the score in each range of depth: its sum over the layers that were described.
func (t trial) byDepth(odds []row) (sum byDepth) {
	for _, layer := range t.layers {
		for from := layer.from; from < layer.to; {
			d, to := rangeOf(from), from+1
			for to < layer.to && rangeOf(to) == d {
				to++
			}
			sum[d] += calling(layer.class, odds[from:to])
			from = to
		}
	}
	return sum
}

// calling is the loss of having said odds for the cells of a layer that was described as a
// class,
//
//	-log Σₖ P(described | k) Π p_z(k).
//
// A crew that takes one layer for another does so for all of its cells at once. Were each of
// them its own slip, a thick layer that one crew misnamed would cost as much as twenty do, and
// the most careful statement would look best.
func calling(class soil.Class, odds []row) float64 {
	var loss row
	least := math.Inf(1)
	for k, p := range heard[class] {
		loss[k] = math.Inf(1)
		if p > 0 {
			loss[k] = -math.Log(p)
			for z := range odds {
				loss[k] += score(odds[z][k])
			}
			least = min(least, loss[k])
		}
	}
	sum := 0.0
	for _, l := range loss {
		sum += math.Exp(least - l)
	}
	return least - math.Log(sum)
}

func (t trial) score(odds []row) (sum float64) {
	for _, s := range t.byDepth(odds) {
		sum += s
	}
	return sum
}
