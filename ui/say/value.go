package say

import (
	"fmt"
	"math"
	"strconv"
	"time"
)

// Kind says what a placeholder carries.
type Kind string

// The kinds that catalogue/arguments.json may name.
const (
	KindMetres   Kind = "metres"   // depth or length
	KindDistance Kind = "distance" // on the map, m or km
	KindYield    Kind = "yield"    // L/s and L/min
	KindChance   Kind = "chance"   // probability as whole percent, never 0 or 100
	KindShare    Kind = "share"    // fraction as whole percent
	KindCount    Kind = "count"    // whole number, chooses plural forms
	KindNumber   Kind = "number"   // plain number with stated decimals
	KindDegrees  Kind = "degrees"  // angle
	KindPosition Kind = "position" // latitude and longitude
	KindMoney    Kind = "money"    // amount and currency code
	KindDate     Kind = "date"     // day in words
	KindMonth    Kind = "month"    // name of a month
	KindText     Kind = "text"     // a name or entry as given
	KindCode     Kind = "code"     // another message of the catalogue
	KindAny      Kind = "any"      // a value of whichever kind, its numbers exact rather than rounded
)

var kinds = []Kind{
	KindMetres, KindDistance, KindYield, KindChance, KindShare, KindCount, KindNumber,
	KindDegrees, KindPosition, KindMoney, KindDate, KindMonth, KindText, KindCode, KindAny,
}

// Value is one typed argument. Values are made by the functions of this package.
type Value struct {
	kind   Kind
	lo, hi float64 // equal where the value is no range
	text   string  // text, currency code, decimals, or the year of a date without a day
	when   time.Time
	nested *Message
}

// Metres is a depth or length in metres.
func Metres(v float64) Value { return MetresRange(v, v) }

// MetresRange is a range of depths or lengths in metres.
func MetresRange(lo, hi float64) Value { return Value{kind: KindMetres, lo: lo, hi: hi} }

// Distance is a distance in metres, shown in m or km.
func Distance(metres float64) Value { return Value{kind: KindDistance, lo: metres, hi: metres} }

// LitresPerSecond is a yield in L/s, shown in L/s and L/min.
func LitresPerSecond(v float64) Value { return LitresPerSecondRange(v, v) }

// LitresPerSecondRange is a range of yields in L/s.
func LitresPerSecondRange(lo, hi float64) Value { return Value{kind: KindYield, lo: lo, hi: hi} }

// Chance is a probability in [0,1], shown in percent and never as 0 or 100.
func Chance(p float64) Value { return ChanceRange(p, p) }

// ChanceRange is a range of probabilities in [0,1].
func ChanceRange(lo, hi float64) Value { return Value{kind: KindChance, lo: lo, hi: hi} }

// Share is a fraction of a whole in [0,1], shown in percent; 0 and 100 are allowed.
func Share(v float64) Value { return Value{kind: KindShare, lo: v, hi: v} }

// Count is a whole number of things; it chooses the plural form.
func Count(n int) Value { return CountRange(n, n) }

// CountRange is a range of whole numbers; its upper end chooses the plural form.
func CountRange(lo, hi int) Value {
	return Value{kind: KindCount, lo: float64(lo), hi: float64(hi)}
}

// Number is a plain number shown with the given decimals.
func Number(v float64, decimals int) Value {
	return Value{kind: KindNumber, lo: v, hi: v, text: fmt.Sprint(decimals)}
}

// NumberRange is a range of plain numbers shown with the given decimals, or one number where
// both ends read the same.
func NumberRange(lo, hi float64, decimals int) Value {
	return Value{kind: KindNumber, lo: lo, hi: hi, text: fmt.Sprint(decimals)}
}

// Degrees is an angle in degrees, such as a direction or a slope.
func Degrees(v float64) Value { return Value{kind: KindDegrees, lo: v, hi: v} }

// Position is a latitude and a longitude in decimal degrees.
func Position(lat, lon float64) Value { return Value{kind: KindPosition, lo: lat, hi: lon} }

// Money is an amount with its ISO 4217 currency code.
func Money(amount float64, currency string) Value { return MoneyRange(amount, amount, currency) }

// MoneyRange is a range of amounts in one currency.
func MoneyRange(lo, hi float64, currency string) Value {
	return Value{kind: KindMoney, lo: lo, hi: hi, text: currency}
}

// Date is a calendar day, written in words. The time of day is ignored.
func Date(t time.Time) Value { return Value{kind: KindDate, when: t} }

// DateOfMonth is a date that is known to its month only; month 0: to its year only.
func DateOfMonth(year int, month time.Month) Value {
	return Value{kind: KindDate, lo: float64(month), hi: float64(month), text: strconv.Itoa(year)}
}

// Month is the name of a month.
func Month(m time.Month) Value { return Value{kind: KindMonth, lo: float64(m), hi: float64(m)} }

// Text is a name or an entry repeated exactly as it was given.
func Text(s string) Value { return Value{kind: KindText, text: s} }

// Of is another message of the catalogue, such as the name of a soil class.
func Of(code string, args ...Arg) Value {
	return Value{kind: KindCode, nested: &Message{Code: code, Args: args}}
}

// check refuses numbers that would print as nonsense.
func (v Value) check() error {
	for _, x := range []float64{v.lo, v.hi} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%s is not a finite number", v.kind)
		}
	}
	switch v.kind {
	case KindChance, KindShare:
		return v.within(0, 1)
	case KindMonth:
		return v.within(1, 12)
	case KindDate:
		return v.within(0, 12)
	case KindDistance, KindYield:
		return v.within(0, math.MaxFloat64)
	case KindPosition:
		if math.Abs(v.lo) > 90 || math.Abs(v.hi) > 180 {
			return fmt.Errorf("position %v, %v is not on the globe", v.lo, v.hi)
		}
		return nil
	case "":
		return fmt.Errorf("empty value; make it with a function such as say.Metres")
	default:
		return v.within(-math.MaxFloat64, math.MaxFloat64)
	}
}

func (v Value) within(lo, hi float64) error {
	if v.lo < lo || v.hi > hi || v.lo > v.hi {
		return fmt.Errorf("%s %v to %v must lie within %v to %v, lower end first", v.kind, v.lo, v.hi, lo, hi)
	}
	return nil
}
