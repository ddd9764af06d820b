package terrain

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"io"
	"math"

	"golang.org/x/image/tiff/lzw"
)

// pixel is how one value is written.
type pixel struct {
	bytes     int
	value     func(binary.ByteOrder, []byte) float64
	predictor uint64
	unpack    func([]byte) io.Reader
}

// pixels are the values by sample format (TIFF 6.0, section 19) and bits.
var pixels = map[[2]uint64]func(binary.ByteOrder, []byte) float64{
	{1, 8}:  func(_ binary.ByteOrder, b []byte) float64 { return float64(b[0]) },
	{2, 8}:  func(_ binary.ByteOrder, b []byte) float64 { return float64(int8(b[0])) },
	{1, 16}: func(o binary.ByteOrder, b []byte) float64 { return float64(o.Uint16(b)) },
	{2, 16}: func(o binary.ByteOrder, b []byte) float64 { return float64(int16(o.Uint16(b))) },
	{1, 32}: func(o binary.ByteOrder, b []byte) float64 { return float64(o.Uint32(b)) },
	{2, 32}: func(o binary.ByteOrder, b []byte) float64 { return float64(int32(o.Uint32(b))) },
	{3, 32}: func(o binary.ByteOrder, b []byte) float64 { return float64(math.Float32frombits(o.Uint32(b))) },
	{3, 64}: func(o binary.ByteOrder, b []byte) float64 { return math.Float64frombits(o.Uint64(b)) },
}

// unpackers are the ways to undo a compression, by its number.
var unpackers = map[uint64]func([]byte) io.Reader{
	1:     func(raw []byte) io.Reader { return bytes.NewReader(raw) },
	5:     func(raw []byte) io.Reader { return lzw.NewReader(bytes.NewReader(raw), lzw.MSB, 8) },
	8:     inflate,
	32946: inflate, // deflate by its older number
	32773: func(raw []byte) io.Reader { return &packBits{raw: raw} },
}

func inflate(raw []byte) io.Reader {
	r, err := zlib.NewReader(bytes.NewReader(raw))
	if err != nil {
		return failing{err}
	}
	return r
}

// failing is a reader of nothing but an error.
type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// format reads how values are written.
func (t *tiff) format() error {
	bits, kind := t.tags.number(tagBits, 1), t.tags.number(tagSampleFormat, 1)
	t.pixel.value = pixels[[2]uint64{kind, bits}]
	if t.pixel.value == nil {
		return unread("values of %d bits in sample format %d; write them as 32-bit floats (gdal_translate -ot Float32)", bits, kind)
	}
	t.pixel.bytes = int(bits / 8)
	packing := t.tags.number(tagCompression, 1)
	if t.pixel.unpack = unpackers[packing]; t.pixel.unpack == nil {
		return unread("compression %d; write it anew (gdal_translate -co COMPRESS=DEFLATE)", packing)
	}
	t.pixel.predictor = t.tags.number(tagPredictor, 1)
	if p := t.pixel.predictor; p < 1 || p > 3 || p == 3 && kind != 3 || p == 2 && bits == 64 {
		return unread("predictor %d for values of %d bits; write it anew (gdal_translate -co PREDICTOR=1)", p, bits)
	}
	if t.tags.number(tagFillOrder, 1) != 1 {
		return unread("bits in reversed order; write it anew (gdal_translate)")
	}
	return nil
}

func (t *tiff) block(row, col int) ([]float32, error) {
	z := make([]float32, t.rows*t.cols)
	rows := t.rows
	if !t.tags.has(tagTileWidth) {
		rows = min(rows, t.at.Rows-row*t.rows) // the last strip is cut short
	}
	raw, err := t.unpacked(row*t.across+col, rows*t.cols*t.pixel.bytes)
	if err != nil {
		return nil, err
	}
	if raw == nil { // GDAL leaves out what holds no value
		for i := range z {
			z[i] = missing
		}
		return z, nil
	}
	line := t.cols * t.pixel.bytes
	for r := range rows {
		t.decode(raw[r*line:(r+1)*line], z[r*t.cols:(r+1)*t.cols])
	}
	return z, nil
}

// unpacked returns the bytes of a tile or strip, nil for one that is left out.
func (t *tiff) unpacked(i, size int) ([]byte, error) {
	if t.counts[i] == 0 {
		return nil, nil
	}
	packed, err := cut(t.in, t.starts[i], t.counts[i])
	if err != nil {
		return nil, err
	}
	// Room grows with what is really there: a false size makes none.
	raw, err := io.ReadAll(io.LimitReader(t.pixel.unpack(packed), int64(size)))
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) || len(raw) < size {
		return nil, broken("tile or strip %d holds %d of %d bytes (%v); fetch the file again", i, len(raw), size, err)
	}
	return raw, nil
}

// decode turns the bytes of one row into values.
func (t *tiff) decode(raw []byte, z []float32) {
	order := t.tags.order
	switch n := t.pixel.bytes; t.pixel.predictor {
	case 2:
		sumUp(order, raw, n)
	case 3:
		raw, order = gather(raw, n), binary.BigEndian
	}
	for c := range z {
		v := t.pixel.value(order, raw[c*t.pixel.bytes:])
		z[c] = float32(v)
		if v == t.empty || math.IsInf(float64(z[c]), 0) {
			z[c] = missing
		}
	}
}

// sumUp undoes the horizontal predictor (TIFF 6.0, section 14): each value is written as
// its difference from the one before, whatever its type, as a whole number.
func sumUp(order binary.ByteOrder, raw []byte, n int) {
	for i := n; i < len(raw); i += n {
		switch n {
		case 1:
			raw[i] += raw[i-1]
		case 2:
			order.PutUint16(raw[i:], order.Uint16(raw[i:])+order.Uint16(raw[i-2:]))
		case 4:
			order.PutUint32(raw[i:], order.Uint32(raw[i:])+order.Uint32(raw[i-4:]))
		}
	}
}

// gather undoes the floating-point predictor (Adobe TIFF Technical Note 3, 2005): bytes
// are differences, all first bytes of a row before all second ones, highest first.
func gather(raw []byte, n int) []byte {
	for i := 1; i < len(raw); i++ {
		raw[i] += raw[i-1]
	}
	out, cols := make([]byte, len(raw)), len(raw)/n
	for c := range cols {
		for b := range n {
			out[c*n+b] = raw[b*cols+c]
		}
	}
	return out
}
