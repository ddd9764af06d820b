package store

import (
	"fmt"
	"strconv"

	"waterstrike/geo"
)

// textOf reads a stored text. SQLite keeps what another program put there, so a number
// is read as its digits.
func textOf(cell any) (string, error) {
	switch v := cell.(type) {
	case nil:
		return "", nil
	case string:
		return v, nil
	case int64:
		return strconv.FormatInt(v, 10), nil
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64), nil
	}
	return "", fmt.Errorf("%T where words belong", cell)
}

func numberOf(cell any) (float64, error) {
	switch v := cell.(type) {
	case float64:
		return v, nil
	case int64:
		return float64(v), nil
	}
	return 0, fmt.Errorf("%T where a number belongs", cell)
}

func countOf(cell any) (int64, error) {
	v, ok := cell.(int64)
	if !ok {
		return 0, fmt.Errorf("%T where a whole number belongs", cell)
	}
	return v, nil
}

func dateOf(cell any) (geo.Date, error) {
	s, err := textOf(cell)
	if err != nil {
		return geo.Date{}, err
	}
	return geo.ParseDate(s)
}
