package season

import (
	"waterstrike/advisor"
	"waterstrike/geo"
)

// Prices are what an attempt costs, and from where that is known.
type Prices struct {
	From     geo.Code `json:"from"`
	PerBore  float64  `json:"perBore"`
	PerMetre float64  `json:"perMetre"`
	Bores    int      `json:"bores,omitempty"` // that the records' price is the mean of
	Currency string   `json:"currency,omitempty"`
}

// From where prices are known.
const (
	Given    geo.Code = "season.prices.given"
	Listed   geo.Code = "season.prices.listed"   // the programme's own list
	Recorded geo.Code = "season.prices.recorded" // what the bores of the records cost
)

// leastPriced is how many bores with cost and depth a price is taken from.
const leastPriced = 5

// pricesOf takes the prices that were given; else those of the programme's list, which the
// designs carry; else what the bores of one currency cost for a metre.
func pricesOf(bores []geo.Bore, w *Wishes, listed string) (Prices, error) {
	if w.PerBore.Known() || w.PerMetre.Known() {
		return Prices{From: Given, PerBore: w.PerBore.Or(0), PerMetre: w.PerMetre.Or(0)}, nil
	}
	if listed != "" {
		return Prices{From: Listed, Currency: listed}, nil
	}
	p := Prices{From: Recorded}
	metres, money := 0.0, 0.0
	for _, b := range bores {
		cost, priced := b.Cost.Get()
		deep, known := b.DepthM.Get()
		if priced && known && deep > 0 && (p.Currency == "" || p.Currency == cost.Currency) {
			p.Currency = cost.Currency
			p.Bores, metres, money = p.Bores+1, metres+deep, money+cost.Amount
		}
	}
	if p.Bores >= leastPriced && money > 0 {
		p.PerMetre = money / metres
		return p, nil
	}
	return Prices{}, fail(geo.Invalid, "season.no-prices")
}

// of is what one attempt costs, whatever comes of it.
func (p *Prices) of(w advisor.Way) float64 {
	if money, known := w.Work.Money.Get(); known && p.From == Listed {
		return money.P80
	}
	return p.PerBore + p.PerMetre*w.DrilledM
}
