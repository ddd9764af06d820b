package demoland

import "waterstrike/geo"

// Currency is the code that ISO 4217 keeps for trials.
const Currency = "XTS"

// perMetre is what a metre costs the invented programmes, by method, in [Currency].
var perMetre = map[geo.Method]float64{
	"auger": 14, "percussion": 31, "sludging": 18, "rotary-sludging": 23, "jetting": 20, geo.MethodMachine: 58,
}

// Costs are what bores cost, by their numbers: so much for the crew to come, so much a
// metre, more or less, and a well's pipes where it became one. Of one bore in seven nobody
// kept the bill.
func (l *Land) Costs(bores []geo.Bore) map[string]geo.Money {
	r := stream(l.seed, "costs")
	out := map[string]geo.Money{}
	for _, b := range bores {
		deep := b.DepthM.Or(0)
		amount := between(r, 170, 260) + perMetre[b.Method]*deep*between(r, 0.85, 1.2)
		if b.Outcome == geo.Producing {
			amount += 310 + 9*deep
		}
		if r.Float64() < 6.0/7 {
			out[b.Code] = geo.Money{Amount: round(amount, 1), Currency: Currency}
		}
	}
	return out
}
