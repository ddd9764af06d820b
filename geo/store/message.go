package store

import (
	"encoding/json"

	"waterstrike/geo"
)

// messageOf reads a message as its own JSON writes it.
func messageOf(text string) (m geo.Message, err error) {
	err = json.Unmarshal([]byte(text), &m)
	return m, err
}
