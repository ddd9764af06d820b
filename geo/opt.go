package geo

import "encoding/json"

// Opt is a value that may be missing. The zero value is missing; a missing value is
// never 0 and never NaN.
type Opt[T any] struct {
	value T
	known bool
}

// Some wraps a value that is known.
func Some[T any](v T) Opt[T] { return Opt[T]{value: v, known: true} }

// Get returns the value and whether it is known.
func (o Opt[T]) Get() (T, bool) { return o.value, o.known }

// Known reports whether the value is there.
func (o Opt[T]) Known() bool { return o.known }

// Or returns the value, or other when it is missing.
func (o Opt[T]) Or(other T) T {
	if o.known {
		return o.value
	}
	return other
}

// IsZero reports that the value is missing, so that `json:",omitzero"` leaves it out.
func (o Opt[T]) IsZero() bool { return !o.known }

// MarshalJSON writes the value, or null when it is missing.
func (o Opt[T]) MarshalJSON() ([]byte, error) {
	if !o.known {
		return []byte("null"), nil
	}
	return json.Marshal(o.value)
}

// UnmarshalJSON reads a value; null is missing.
func (o *Opt[T]) UnmarshalJSON(data []byte) error {
	*o = Opt[T]{}
	if string(data) == "null" {
		return nil
	}
	var v T
	if err := json.Unmarshal(data, &v); err != nil {
		return err // and nothing half read stays behind
	}
	*o = Some(v)
	return nil
}
