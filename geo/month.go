package geo

import (
	"encoding/json"
	"fmt"
	"time"
)

// MonthSet is a set of calendar months: bit m-1 stands for month m. In JSON it is the
// list of its months' numbers, [] when it is empty.
type MonthSet uint16

// Months builds a set. Numbers outside 1 to 12 are no months and are left out.
func Months(months ...time.Month) MonthSet {
	var s MonthSet
	for _, m := range months {
		s |= bitOf(m)
	}
	return s
}

// bitOf returns the bit of a month, 0 for what is no month.
func bitOf(m time.Month) MonthSet {
	if m < time.January || m > time.December {
		return 0
	}
	return 1 << (m - 1)
}

// Has reports whether m is in the set.
func (s MonthSet) Has(m time.Month) bool { return s&bitOf(m) != 0 }

// List returns the months of the set in calendar order.
func (s MonthSet) List() []time.Month {
	var out []time.Month
	for m := time.January; m <= time.December; m++ {
		if s.Has(m) {
			out = append(out, m)
		}
	}
	return out
}

// MarshalJSON writes the months' numbers, such as [3,4].
func (s MonthSet) MarshalJSON() ([]byte, error) {
	return json.Marshal(append([]time.Month{}, s.List()...))
}

// UnmarshalJSON reads a list of months' numbers in any order.
func (s *MonthSet) UnmarshalJSON(data []byte) error {
	var months []time.Month
	if err := json.Unmarshal(data, &months); err != nil {
		return err
	}
	for _, m := range months {
		if bitOf(m) == 0 {
			return fmt.Errorf("geo: %d is not a month from 1 to 12", m)
		}
	}
	*s = Months(months...)
	return nil
}
