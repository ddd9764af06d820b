package terrain

import (
	"encoding/binary"
	"regexp"
	"strconv"
)

// hgt is a tile of one degree of the Shuttle Radar Topography Mission: points, not cells,
// on its edges too, by rows from the north. Source: USGS, SRTM Topography (documentation
// of version 2.1), section 3.
type hgt struct {
	in input
	at Frame
}

const (
	hgtVoid = -32768
	hgtRows = 64 // of a block
)

var hgtName = regexp.MustCompile(`(?i)^([NS])(\d{2})([EW])(\d{3})`)

func openHGT(in input) (source, error) {
	m := hgtName.FindStringSubmatch(in.name)
	if m == nil {
		return nil, broken("the name must begin with the tile's south-west corner, such as N00E006")
	}
	lat, lon := signed(m[2], m[1], "S", "s"), signed(m[4], m[3], "W", "w")
	var n int
	switch in.bytes {
	case 2 * 1201 * 1201:
		n = 1201
	case 2 * 3601 * 3601:
		n = 3601
	default:
		return nil, broken("%d bytes are neither 1201 by 1201 nor 3601 by 3601 values of 2 bytes", in.bytes)
	}
	cell := 1 / float64(n-1)
	return &hgt{in, Frame{Rows: n, Cols: n, West: lon - cell/2, North: lat + 1 + cell/2, CellX: cell, CellY: cell}}, nil
}

func signed(digits, letter string, negative ...string) float64 {
	v, _ := strconv.ParseFloat(digits, 64) // two or three digits
	for _, n := range negative {
		if letter == n {
			return -v
		}
	}
	return v
}

func (h *hgt) frame() Frame     { return h.at }
func (h *hgt) size() (int, int) { return hgtRows, h.at.Cols }

func (h *hgt) block(row, _ int) ([]float32, error) {
	cols := h.at.Cols
	raw := make([]byte, 2*cols*min(hgtRows, h.at.Rows-row*hgtRows))
	if _, err := h.in.ReadAt(raw, int64(2*cols*hgtRows*row)); err != nil {
		return nil, err
	}
	z := make([]float32, hgtRows*cols)
	for i := range len(raw) / 2 {
		v := int16(binary.BigEndian.Uint16(raw[2*i:]))
		z[i] = float32(v)
		if v == hgtVoid {
			z[i] = missing
		}
	}
	return z, nil
}
