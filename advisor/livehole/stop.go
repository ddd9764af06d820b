package livehole

// worth is what going on is worth, in the unit of the pack's costs and against nothing:
// stopping is worth minus the cost of closing.
type worth struct {
	best   float64 // stopping when it is best, by what a crew can see
	chance float64 // of a success if the hole goes on as far as the method does
}

// More is the outlook of so many more metres, whatever they show.
type More struct {
	Metres float64 `json:"metres"`
	Chance float64 `json:"chance"` // of a success within them
	Cost   float64 `json:"cost"`   // expected, of drilling; of lining and closing not
	Gain   float64 `json:"gain"`   // what they are worth more than stopping now
}

// stopping works out the best time to stop, from the deepest cell up,
//
//	V(z,k) = max(-close, -cost + works·(next - lining) + Σ on V(z+1,k') - rest·close),
//
// by class of the last cell and whether water was met.
//
// Source: backward induction, any textbook; Puterman (1994), chapter 4.
func (p *Pack) stopping(m *Method, flows []flow, from int) (out worth) {
	prize, left := p.Costs.Next-m.LineCost, -p.Costs.Close
	below := [2 * classes]float64{}
	for i := range below {
		below[i] = left
	}
	for z := len(flows) - 1; z >= from; z-- {
		f := &flows[z]
		at := [2 * classes]float64{}
		for i, alive := range f.alive {
			at[i] = left
			if alive == 0 {
				continue
			}
			rest, goes := alive-f.works[i], f.works[i]*prize-f.cost[i]
			for k, on := range f.on[i] {
				rest -= on
				goes += on * below[k]
			}
			at[i] = max(left, (goes+rest*left)/alive)
			out.chance += f.works[i]
		}
		below = at
	}
	alive := 0.0
	for i, p := range flows[from].alive {
		out.best += p * below[i]
		alive += p
	}
	out.best += (1 - alive) * left
	return out
}

// more is what so many cells more bring if the hole is closed after them.
func (p *Pack) more(m *Method, flows []flow, from, cells int) More {
	out := More{Metres: float64(cells) * cellM}
	for z := from; z < min(from+cells, len(flows)); z++ {
		for i, works := range flows[z].works {
			out.Chance += works
			out.Cost += flows[z].cost[i]
		}
	}
	out.Gain = out.Chance*(p.Costs.Next-m.LineCost+p.Costs.Close) - out.Cost
	return out
}
