package terrain

import (
	"encoding/binary"
	"math"
)

// tags are the fields of a TIFF directory as they stand in the file.
type tags struct {
	order  binary.ByteOrder
	fields map[uint16]field
}

type field struct {
	kind uint16
	raw  []byte
}

// kindBytes is the size of one value of each TIFF field type; 0 for those unknown.
var kindBytes = [19]int{1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 16: 8, 17: 8, 18: 8}

// dialect is what differs between TIFF and BigTIFF: the bytes of a count or an offset and
// of the number of entries.
type dialect struct{ word, count int }

func readTags(in input) (tags, error) {
	var head [16]byte
	if n, _ := in.ReadAt(head[:], 0); n < 8 {
		return tags{}, broken("%d bytes are too few for a TIFF", in.bytes)
	}
	var t tags
	switch string(head[:2]) {
	case "II":
		t.order = binary.LittleEndian
	case "MM":
		t.order = binary.BigEndian
	default:
		return t, broken("the first two bytes are neither II nor MM")
	}
	switch version := t.order.Uint16(head[2:]); version {
	case 42:
		return t, t.read(in, uint64(t.order.Uint32(head[4:])), dialect{4, 2})
	case 43:
		return t, t.read(in, t.order.Uint64(head[8:]), dialect{8, 8})
	default:
		return t, broken("version %d is neither TIFF nor BigTIFF", version)
	}
}

// maxTags is more than any directory of one image has.
const maxTags = 4096

// read reads the directory at an offset.
func (t *tags) read(in input, at uint64, d dialect) error {
	raw, err := cut(in, at, uint64(d.count))
	if err != nil {
		return err
	}
	n := t.uint(raw)
	if n == 0 || n > maxTags {
		return broken("a directory of %d entries", n)
	}
	size := uint64(4 + 2*d.word)
	entries, err := cut(in, at+uint64(d.count), n*size)
	if err != nil {
		return err
	}
	t.fields = make(map[uint16]field, n)
	for ; len(entries) > 0; entries = entries[size:] {
		if err := t.entry(in, entries[:size], d); err != nil {
			return err
		}
	}
	return nil
}

// entry reads one field: its values stand in the entry if there is room, else elsewhere.
func (t *tags) entry(in input, e []byte, d dialect) error {
	kind := t.order.Uint16(e[2:])
	if int(kind) >= len(kindBytes) || kindBytes[kind] == 0 {
		return nil // TIFF 6.0 asks to pass over types that are not known
	}
	count, value := t.uint(e[4:4+d.word]), e[4+d.word:]
	if count > uint64(in.bytes) {
		return broken("a field of %d values", count)
	}
	size := count * uint64(kindBytes[kind])
	if size > uint64(d.word) {
		var err error
		if value, err = cut(in, t.uint(value), size); err != nil {
			return err
		}
	}
	t.fields[t.order.Uint16(e)] = field{kind, value[:size]}
	return nil
}

// cut reads some bytes of a file, making no room for what is not there.
func cut(in input, at, size uint64) ([]byte, error) {
	if at > uint64(in.bytes) || size > uint64(in.bytes)-at {
		return nil, broken("%d bytes at %d lie beyond the end at %d; fetch the file again", size, at, in.bytes)
	}
	raw := make([]byte, size)
	_, err := in.ReadAt(raw, int64(at))
	if err != nil && size > 0 {
		return nil, err
	}
	return raw, nil
}

// uint reads an unsigned number of 1, 2, 4 or 8 bytes.
func (t *tags) uint(raw []byte) uint64 {
	switch len(raw) {
	case 1:
		return uint64(raw[0])
	case 2:
		return uint64(t.order.Uint16(raw))
	case 4:
		return uint64(t.order.Uint32(raw))
	}
	return t.order.Uint64(raw)
}

func (t *tags) has(tag uint16) bool { _, ok := t.fields[tag]; return ok }

// numbers reads the whole numbers of a field; none if it is missing or holds others.
func (t *tags) numbers(tag uint16) []uint64 {
	f := t.fields[tag]
	switch f.kind {
	case 1, 3, 4, 13, 16, 18:
	default:
		return nil
	}
	size := kindBytes[f.kind]
	out := make([]uint64, len(f.raw)/size)
	for i := range out {
		out[i] = t.uint(f.raw[i*size : (i+1)*size])
	}
	return out
}

// number reads the first whole number of a field.
func (t *tags) number(tag uint16, otherwise uint64) uint64 {
	if n := t.numbers(tag); len(n) > 0 {
		return n[0]
	}
	return otherwise
}

// doubles reads the numbers of a field of doubles.
func (t *tags) doubles(tag uint16) []float64 {
	f := t.fields[tag]
	if f.kind != 12 {
		return nil
	}
	out := make([]float64, len(f.raw)/8)
	for i := range out {
		out[i] = math.Float64frombits(t.order.Uint64(f.raw[8*i:]))
	}
	return out
}

func (t *tags) text(tag uint16) []byte {
	if f := t.fields[tag]; f.kind == 2 {
		return f.raw
	}
	return nil
}
