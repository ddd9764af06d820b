package welldesign

import (
	"io/fs"
	"maps"
	"slices"
	"strconv"
	"strings"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// PricesFile is the name of the price list in the rules folder.
const PricesFile = "prices.json"

// Prices is a programme's price list. The program has no prices of its own: what a pipe
// costs differs by a factor of ten between two markets.
type Prices struct {
	Currency  string             // ISO 4217
	PersonDay geo.Opt[float64]   // wage and keep of one person for a day
	Fixed     geo.Opt[float64]   // for each well: transport, permits, wear
	Items     map[string]float64 // by item, for one of its unit; pipe also by item and diameter, "casing-110"
}

// priceList is a price list as a file writes it.
type priceList struct {
	Currency  string                 `json:"currency"`
	PersonDay *rule.Number           `json:"personDay"`
	Fixed     *rule.Number           `json:"fixed"`
	Items     map[string]rule.Number `json:"items"`
}

// PricesFromFolder returns the programme's price list, or nil where it keeps none. A
// wrong file is a [geo.Invalid] error that names file, field, value and what to do.
func PricesFromFolder(rules fs.FS) (*Prices, error) {
	data, err := rule.Edited(rules, PricesFile)
	if err != nil || data == nil {
		return nil, err
	}
	at := rule.Fault{File: rule.Named(PricesFile), Entry: "prices"}
	var list priceList
	if err := rule.Fill(at, data, &list); err != nil {
		return nil, err
	}
	if err := list.check(at); err != nil {
		return nil, err
	}
	prices := &Prices{Currency: list.Currency, Items: map[string]float64{}}
	for item, n := range list.Items {
		prices.Items[item] = n.Value
	}
	if list.PersonDay != nil {
		prices.PersonDay = geo.Some(list.PersonDay.Value)
	}
	if list.Fixed != nil {
		prices.Fixed = geo.Some(list.Fixed.Value)
	}
	return prices, nil
}

// mostMoney is more than anything here costs in any currency.
const mostMoney = 1e9

func (l priceList) check(at rule.Fault) error {
	if len(l.Currency) != 3 || strings.ToUpper(l.Currency) != l.Currency {
		at.Kind, at.Field, at.Value, at.Allowed = rule.NotOneOf, "currency", l.Currency, "USD, XOF, MZN …"
		return rule.Refuse(at)
	}
	for _, item := range slices.Sorted(maps.Keys(l.Items)) {
		if !priceable(item) {
			at.Kind, at.Field, at.Allowed = rule.UnknownField, "items."+item, strings.Join(itemNames(), ", ")
			return rule.Refuse(at)
		}
		if err := at.Within("items."+item, l.Items[item].Value, 0, mostMoney); err != nil {
			return err
		}
	}
	if l.PersonDay != nil {
		if err := at.Within("personDay", l.PersonDay.Value, 0, mostMoney); err != nil {
			return err
		}
	}
	if l.Fixed != nil {
		return at.Within("fixed", l.Fixed.Value, 0, mostMoney)
	}
	return nil
}

// priceable reports that a name is an item, or pipe of a diameter.
func priceable(name string) bool {
	if slices.Contains(itemNames(), name) {
		return true
	}
	cut := strings.LastIndexByte(name, '-')
	if cut < 0 {
		return false
	}
	mm, err := strconv.Atoi(name[cut+1:])
	return err == nil && mm > 0 && sized(Item(name[:cut]))
}

// sized reports that an item's price goes by its diameter.
func sized(i Item) bool {
	switch i {
	case CasingPipe, ScreenPipe, PlugCap, Joints:
		return true
	}
	return false
}

// owned reports that an item goes home with the crew: its wear is in the fixed price.
func owned(i Item) bool { return i == Rods || i == TemporaryCasing }

// itemNames are the items that a price list may name.
func itemNames() []string {
	var out []string
	for _, i := range Items() {
		if !owned(i) {
			out = append(out, string(i))
		}
	}
	return out
}

// of returns the price of an item of a diameter: that of the very diameter, or else that
// of the item.
func (p *Prices) of(item Item, mm float64) (float64, bool) {
	if sized(item) {
		if price, ok := p.Items[string(item)+"-"+strconv.Itoa(int(mm+0.5))]; ok {
			return price, true
		}
	}
	price, ok := p.Items[string(item)]
	return price, ok
}
