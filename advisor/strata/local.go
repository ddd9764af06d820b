package strata

import (
	"math"

	"waterstrike/geo/soil"
)

// choice are the numbers chosen by held-out logs.
type choice struct {
	rangeM    float64 // of the logs that the local chain is counted on
	regional  byDepth // weight of the region in it, in logs at distance 0
	sigma     byDepth // cells over which its counts are smoothed
	over      kernels // of it
	apart     float64 // how much a difference of setting counts; 0 where none is known to help
	nearApart float64 // the same of logs that are taken as they are
	nearM     float64 // range of the logs that are taken as they are
	rest      float64 // weight of the local chain beside them, in logs at distance 0
	sharp     float64 // power of the odds that columns are weighed by
	namedBy   float64 // the same for the odds of what a crew would call a cell
	spot      float64 // weight of a log of this very spot, as a multiple of all else
}

// around are the logs near a point, with their layers and how far each is apart from the
// point in its setting.
type around struct {
	near  []Near
	read  []*reading
	apart []float64
}

func (m *Model) around(near []Near, here Setting) *around {
	return m.aroundLeaves(near, m.follows.at(here))
}

// aroundLeaves is around with the place told by its leaves in the forest.
func (m *Model) aroundLeaves(near []Near, at []uint8) *around {
	a := &around{near, make([]*reading, len(near)), make([]float64, len(near))}
	for i := range near {
		a.read[i] = m.read(&near[i])
		a.apart[i] = apart(at, a.read[i].at)
	}
	return a
}

// weights returns the weight of every log for a range, 0 of those that say nothing.
func (a *around) weights(rangeM, apart float64) []float64 {
	out := make([]float64, len(a.near))
	for i := range a.near {
		if w := math.Exp(-a.near[i].DistanceM/rangeM - apart*a.apart[i]); w > 0 && len(a.read[i].layers) > 0 {
			out[i] = min(w, 1)
		}
	}
	return out
}

// closest is how many of the nearest logs are taken as they are.
const closest = 24

// spotM is the distance within which two places are one: a hand-held receiver is right to
// about as much. Common practice, no source.
const spotM = 10

// close returns the weight of every log that is taken as it is,
//
//	wᵢ = vᵢ + c (r + Σⱼ vⱼ) exp(-(dᵢ/10)²),  vᵢ = exp(-dᵢ/a - b sᵢ),
//
// so that a log of this very spot has c times the weight of all else.
func (c *choice) close(by *around) []float64 {
	near := by.near[:min(closest, len(by.near))]
	out := (&around{near, by.read, by.apart}).weights(c.nearM, c.nearApart)
	all := c.rest
	for _, v := range out {
		all += v
	}
	for i, n := range near {
		if out[i] > 0 {
			d := n.DistanceM / spotM
			out[i] += c.spot * all * math.Exp(-d*d)
		}
	}
	return out
}

// counted gathers what the logs around a point say of the steps between cells.
type counted struct {
	tally
	first   row
	weights []float64
	logs    float64 // weight of all
	over    kernels
	cells   int // that are counted, from the surface
}

func (r *region) count(a *around, weight []float64, over kernels, cells int) *counted {
	c, ok := r.spare.Get().(*counted)
	if ok {
		*c = counted{}
	} else {
		c = new(counted)
	}
	c.weights, c.over, c.cells = weight, over, cells
	for i, read := range a.read {
		if weight[i] < leastWeight {
			continue
		}
		c.logs += weight[i]
		c.addLog(read.layers, weight[i])
		by := read.refusal
		if read.by == nil {
			by = r.refusedBy(a.near[i].Log, r.step)
		}
		if by.odds != nil {
			c.addRow(by.above, by.cell, by.odds, weight[i])
		}
		top := r.first
		if read.layers[0].from == 0 {
			top = certain(read.layers[0].class)
		}
		for k, p := range top {
			c.first[k] += weight[i] * p
		}
	}
	c.smooth(over, cells)
	return c
}

// leastWeight is the weight below which a log is left out: a hundred of them together
// weigh less than one log.
const leastWeight = 1e-3

// local returns the chain at a point, the region's where nothing was counted.
func (r *region) local(c *counted, regional byDepth) *chain {
	out := &chain{first: r.first, step: c.chain(r.step, c.over.worth(regional), c.cells)}
	if c.logs > 0 {
		mix(&out.first, &c.first, &r.first, regional[0])
	}
	return out
}

// oddsFor returns the odds of every cell under local's chain for each weight of the region.
// It builds none of these chains: the choices need only the odds, some ten thousand times.
func (r *region) oddsFor(c *counted, regionals []float64) [][]row {
	out, worth := make([][]row, len(regionals)), make([]byDepth, len(regionals))
	for i, regional := range regionals {
		out[i], worth[i] = make([]row, c.cells), c.over.worth(everywhere(regional))
		out[i][0] = r.first
		if c.logs > 0 {
			mix(&out[i][0], &c.first, &r.first, regional)
		}
	}
	for z := 1; z < c.cells; z++ {
		for j := range r.step[z] {
			counts, prior := c.at(j, z), &r.step[z][j]
			for i := range out {
				if p := out[i][z-1][j]; p != 0 {
					var step row
					mix(&step, counts, prior, worth[i][rangeOf(z)])
					for k, q := range step {
						out[i][z][k] += p * q
					}
				}
			}
		}
	}
	return out
}

// names are the matrices to a layer described as each class.
type names [soil.Count + 1]*matrix

func newNames() (n names) {
	for _, class := range soil.Known() {
		n[class] = named(class)
	}
	return n
}

// continued returns the chain of one log: its layers as described, each of them what the
// crew may have meant, and a chain where it says nothing. Below its end a refused log goes
// on in what refuses its method.
func (m *Model) continued(log Log, layers []interval, by *chain) chain {
	out := chain{first: by.first, step: append([]*matrix(nil), by.step...)}
	for _, layer := range layers {
		for z := layer.from; z < min(layer.to, len(out.step)); z++ {
			out.step[z] = nil
		}
		if layer.from == 0 {
			out.first = meant(layer.class)
		} else if layer.from < len(out.step) {
			out.step[layer.from] = m.names[layer.class]
		}
	}
	if end := log.last() + 1; log.Refused && end > 0 && end < len(out.step) {
		out.step[end] = m.region.stopped(log.Method, by.step[end])
	}
	return out
}
