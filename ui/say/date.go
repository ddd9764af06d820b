package say

import (
	"errors"
	"strconv"
	"strings"
	"time"
)

// date writes a date in words as precisely as it is known, in the order that the
// catalogue gives.
func (c *Catalogue) date(l Lang, v Value) (string, error) {
	switch {
	case v.text == "":
		return c.day(l, v.when)
	case v.lo == 0:
		return v.text, nil
	}
	return c.TrySay(l, Msg("date.month-and-year",
		With("month", Month(time.Month(v.lo))), With("year", Text(v.text))))
}

func (c *Catalogue) day(l Lang, t time.Time) (string, error) {
	if t.IsZero() {
		return "", errors.New("date is not set; leave the sentence out when the date is unknown")
	}
	day := strconv.Itoa(t.Day())
	if t.Day() == 1 {
		day = styles[l].firstDay
	}
	return c.TrySay(l, Msg("date.long",
		With("day", Text(day)),
		With("month", Month(t.Month())),
		With("year", Text(strconv.Itoa(t.Year())))))
}

func (c *Catalogue) month(l Lang, m int) (string, error) {
	return c.TrySay(l, Msg("month."+strings.ToLower(time.Month(m).String())))
}
