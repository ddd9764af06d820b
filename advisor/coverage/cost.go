package coverage

import "waterstrike/geo"

// Ratio is money over what it bought, with the bores it rests on.
type Ratio struct {
	Per     geo.Opt[float64] `json:"per,omitzero"` // missing where nothing was bought
	Cost    float64          `json:"cost"`
	Bought  float64          `json:"bought"`
	Records []string         `json:"records,omitempty"`
	Lacking []string         `json:"lacking,omitempty"` // bores that lack one of the two figures, left out of both
}

// Costs is what the work cost. Failures cost too and buy nothing: that is the price of a
// water point where the ground says no.
type Costs struct {
	Metre   Ratio `json:"metre"`   // per metre drilled
	Success Ratio `json:"success"` // per producing bore
	Person  Ratio `json:"person"`  // per person served
}

// costsOf divides the cost of all bores by what came of them; a bore that failed serves
// nobody.
func costsOf(bores []Bore) Costs {
	return Costs{
		Metre: ratio(bores, func(b *Bore) (float64, bool) { return b.DepthM.Get() }),
		Success: ratio(bores, func(b *Bore) (float64, bool) {
			if b.produces() {
				return 1, true
			}
			return 0, b.known()
		}),
		Person: ratio(bores, func(b *Bore) (float64, bool) {
			if b.known() && !b.produces() {
				return 0, true
			}
			n, counted := b.Served.Get()
			return float64(n), counted && b.known()
		}),
	}
}

func ratio(bores []Bore, bought func(*Bore) (float64, bool)) (r Ratio) {
	for i := range bores {
		b := &bores[i]
		cost, priced := b.Cost.Get()
		n, known := bought(b)
		if !priced || !known {
			r.Lacking = append(r.Lacking, b.ID)
			continue
		}
		r.Cost += cost
		r.Bought += n
		r.Records = append(r.Records, b.ID)
	}
	if r.Bought > 0 {
		r.Per = geo.Some(r.Cost / r.Bought)
	}
	return r
}
