package programme

// prices are what a share of each row costs, in units of the score.
type prices struct {
	money  float64
	weeks  []float64 // by window
	floors []float64
	worst  []float64 // weights of the scenarios in the worst fifth; nil without caution
}

func (m *model) noPrices() prices {
	p := prices{weeks: make([]float64, m.windows), floors: make([]float64, len(m.floors))}
	if m.goal.caution > 0 && !m.goal.blind {
		p.worst = make([]float64, m.goal.cases)
		for s := range p.worst {
			p.worst[s] = 1 / float64(m.goal.cases)
		}
	}
	return p
}

func (p *prices) clone() prices {
	return prices{
		money: p.money, weeks: append([]float64(nil), p.weeks...),
		floors: append([]float64(nil), p.floors...), worst: append([]float64(nil), p.worst...),
	}
}
