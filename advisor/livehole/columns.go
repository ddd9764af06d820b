package livehole

// column is one chain of the mixture, unpacked. A step that is nil goes on in the same
// class.
type column struct {
	share float64
	first row
	steps []*matrix
}

// columns unpacks the mixture: the logs in their order, then the chain.
func (p *Pack) columns() []column {
	by := column{share: p.Chain.Share, first: rowOf(p.Chain.First), steps: p.Chain.steps(p.Cells)}
	out := make([]column, 0, len(p.Logs)+1)
	for _, log := range p.Logs {
		out = append(out, p.continued(log, by))
	}
	return append(out, by)
}

func rowOf(x []float64) (r row) {
	copy(r[:], x)
	return r
}

// steps lays the steps between the knots on straight lines.
func (c *Chain) steps(cells int) []*matrix {
	out := make([]*matrix, cells)
	for i, at := range c.Knots[:len(c.Knots)-1] {
		next := c.Knots[i+1]
		for z := at; z <= next; z++ {
			part := float64(z-at) / float64(next-at)
			out[z] = between(c.Steps[i], c.Steps[i+1], part)
		}
	}
	return out
}

func between(a, b []int, part float64) *matrix {
	m := new(matrix)
	for j := range m {
		total := 0.0
		for k := range m[j] {
			m[j][k] = float64(a[j*classes+k])*(1-part) + float64(b[j*classes+k])*part
			total += m[j][k]
		}
		for k := range m[j] {
			m[j][k] /= total
		}
	}
	return m
}

// continued is the chain of one log: its layers as they may have been meant, and the local
// chain where it says nothing.
func (p *Pack) continued(log NearLog, by column) column {
	out := column{share: log.Share, first: by.first, steps: append([]*matrix(nil), by.steps...)}
	end := 0
	for i, run := range log.Runs {
		odds, from := p.oddsOf(run[0], log.Odds[i]), run[1]
		end = run[2]
		for z := from; z < min(end, p.Cells); z++ {
			out.steps[z] = nil
		}
		if from == 0 {
			out.first = odds
		} else if from < p.Cells {
			out.steps[from] = same(odds)
		}
	}
	if log.Below != nil && end < p.Cells {
		out.steps[end] = same(rowOf(log.Below))
	}
	return out
}

// oddsOf gives the numbers of a run to what its class is named for.
func (p *Pack) oddsOf(class int, numbers []int) (odds row) {
	i := 0
	for k, q := range p.Naming[class] {
		if q > 0 {
			odds[k] = float64(numbers[i])
			i++
		}
	}
	scaled(&odds)
	return odds
}

// same is the step to the same odds from whatever lies above.
func same(odds row) *matrix {
	m := new(matrix)
	for j := range m {
		m[j] = odds
	}
	return m
}

// onward returns the odds of a cell from those of the cell above it.
func (c *column) onward(z int, above *row) row {
	if z == 0 {
		return c.first
	}
	if c.steps[z] == nil {
		return *above
	}
	var below row
	for j, p := range above {
		if p == 0 {
			continue
		}
		for k, q := range &c.steps[z][j] {
			below[k] += p * q
		}
	}
	return below
}

// scaled makes a row add up to 1 and returns what it added up to.
func scaled(r *row) float64 {
	total := 0.0
	for _, x := range r {
		total += x
	}
	if total > 0 {
		for k := range r {
			r[k] /= total
		}
	}
	return total
}
