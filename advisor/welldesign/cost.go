package welldesign

import (
	"math"
	"strconv"
	"strings"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// Cost is what a well costs by a price list.
type Cost struct {
	Known   geo.Money     `json:"known"`             // of everything that has a price
	Missing []geo.Message `json:"missing,omitempty"` // what has none: the well costs more than what is known
}

// CostOf prices a design by the kit's list: what stays in the ground, the people and what each well costs
// besides. Rods and temporary casing go home with the crew. What has no price is named
// and never counted as free.
//
//   - Units: z as in [Hours], share as in [Quantities]; money of the list's currency.
//   - Domain: a design that fits, a kit with a price list.
//   - Source: arithmetic.
//   - Checked by: TestCostByHand, TestCostNamesWhatHasNoPrice.
func CostOf(w Well, k Kit, z, share float64) Cost {
	p := k.Prices
	out := Cost{Known: geo.Money{Currency: p.Currency}}
	loads := Quantities(w, k, share)
	var lacking []Item
	for _, item := range Items() {
		amount := loads[item]
		if amount == 0 || owned(item) {
			continue
		}
		price, ok := p.of(item, w.Casing.OutsideMM)
		if !ok {
			lacking = append(lacking, item)
			continue
		}
		out.Known.Amount += price * amount
	}
	if len(lacking) > 0 {
		out.Missing = []geo.Message{noPrice(lacking, w.Casing.OutsideMM)}
	}
	work := Hours(w, k, z)
	out.add(p.PersonDay, work.DaysOut*float64(work.People), "cost.no-person-day")
	out.add(p.Fixed, 1, "cost.no-fixed")
	out.Known.Amount = math.Round(out.Known.Amount*100) / 100
	return out
}

// add counts what is not an item.
func (c *Cost) add(price geo.Opt[float64], times float64, missing geo.Code) {
	if v, known := price.Get(); known {
		c.Known.Amount += v * times
		return
	}
	c.Missing = append(c.Missing, geo.Say(missing, geo.With("file", geo.Text(rule.Named(PricesFile)))))
}

// noPrice names the items that the list has no price for, and how the list would.
func noPrice(items []Item, mm float64) geo.Message {
	var named geo.Refs
	var entries []string
	for _, item := range items {
		name := string(item)
		if sized(item) {
			name += "-" + strconv.Itoa(int(mm+0.5))
		}
		named, entries = append(named, "item."+geo.Code(item)), append(entries, strconv.Quote(name))
	}
	return geo.Say("cost.no-price", geo.With("reason", named), geo.With("entry", geo.Text(strings.Join(entries, ", "))),
		geo.With("file", geo.Text(rule.Named(PricesFile))))
}
