package geo

import (
	"fmt"
	"slices"

	"waterstrike/geo/coord"

	"github.com/google/uuid"
)

// span is a range of numbers that a record may hold, both ends included. It is wide
// enough for anything met in the ground: what is beyond it is a slip of the pen.
type span struct {
	lo, hi float64
	unit   string
}

// The ranges; the tables of the knowledge base hold the same ones.
var (
	depth     = span{0, 5000, "m"} // the deepest water bores are near 3,000 m
	level     = span{-100, 5000, "m"}
	reference = span{-1000, 1000, "m"}
	elevation = span{-12000, 9000, "m"}
	precision = span{0, 1e7, "m"}
	diameter  = span{0, 1e5, "mm"}
	yield     = span{0, 1000, "L/s"}
	testRate  = span{0, 1e6, "L/s"}
	hours     = span{0, 1e6, "h"}
	minutes   = span{0, 1e7, "min"}
	litres    = span{0, 1e7, "L"}
	pace      = span{1e-9, 1e9, "min/m"}
	share     = span{0, 1, ""}
	amount    = span{-1e15, 1e15, ""}
	limit     = span{0, 1e15, ""}
	flood     = span{0, 50, "m"}
	around    = span{0, 5000, "m"}
	bearing   = span{0, 360, "°"}
)

// check also refuses NaN, which is in no range.
func (s span) check(v float64) error {
	if v >= s.lo && v <= s.hi {
		return nil
	}
	if s.unit == "" {
		return fmt.Errorf("%v is not in [%v, %v]", v, s.lo, s.hi)
	}
	return fmt.Errorf("%v %s is not in [%v, %v]", v, s.unit, s.lo, s.hi)
}

// named is check for a number that is always there.
func (s span) named(field string, v float64) error {
	return checkMaybe(field, Some(v), s.check)
}

// checkID refuses every form of a UUID but the usual one of 36 characters: two forms of
// one id would be two records.
func checkID(field, id string) error {
	if len(id) != 36 || uuid.Validate(id) != nil {
		return fmt.Errorf("%s: %q is not a UUID of 36 characters", field, id)
	}
	return nil
}

func checkCode[T ~string](field string, code T, list ...T) error {
	if !slices.Contains(list, code) {
		return fmt.Errorf("%s: %q is not one of %q", field, code, list)
	}
	return nil
}

func checkDate(d Date) error {
	_, err := NewDate(d.Year, d.Month, d.Day)
	return err
}

func checkReading(r coord.Reading) error {
	if !r.Pos.Valid() {
		return fmt.Errorf("longitude %v, latitude %v is not on the globe", r.Pos.Lon, r.Pos.Lat)
	}
	return precision.named("precisionM", r.PrecisionM)
}

func checkElevation(e Elevation) error { return elevation.named("m", e.M) }

func checkMoney(m Money) error { return amount.named("amount", m.Amount) }
