package check

import (
	"encoding/binary"
	"hash/maphash"
	"math"
	"strings"

	"waterstrike/geo"
)

// digesting is one for the whole program: digests are compared, never kept or shown.
var digesting = maphash.MakeSeed()

// logDigest is what two logs share when they are the same.
type logDigest struct {
	layers int
	whole  uint64
	head   uint64 // but for where the last layer ends
}

// digest reads a log to the centimetre and its words as they stand.
func digest(layers []geo.Layer) logDigest {
	if len(layers) == 0 {
		return logDigest{}
	}
	var h maphash.Hash
	h.SetSeed(digesting)
	d := logDigest{layers: len(layers)}
	for _, l := range layers {
		write(&h, l.TopM, float64(l.Class))
		h.WriteString(strings.ToLower(l.Words))
		d.head = h.Sum64()
		write(&h, l.BaseM)
	}
	d.whole = h.Sum64()
	return d
}

func write(h *maphash.Hash, values ...float64) {
	for _, v := range values {
		var b [8]byte
		binary.LittleEndian.PutUint64(b[:], uint64(math.Round(100*v)))
		h.Write(b[:])
	}
}
