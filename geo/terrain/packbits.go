package terrain

import "io"

// packBits undoes the PackBits compression (TIFF 6.0, section 9): a byte n from 0 to 127
// goes before n+1 bytes as they are, one from -127 to -1 before a byte to repeat 1-n times.
type packBits struct {
	raw  []byte
	left []byte // of the bytes as they are
	same byte   // to repeat
	runs int
}

// Read unpacks into p.
func (r *packBits) Read(p []byte) (n int, err error) {
	for n < len(p) {
		switch {
		case len(r.left) > 0:
			k := copy(p[n:], r.left)
			r.left, n = r.left[k:], n+k
		case r.runs > 0:
			p[n] = r.same
			r.runs, n = r.runs-1, n+1
		case !r.head():
			return n, io.EOF
		}
	}
	return n, nil
}

// head reads the next byte that says how to go on; false at the end.
func (r *packBits) head() bool {
	if len(r.raw) < 2 {
		return false
	}
	switch k := int(int8(r.raw[0])); {
	case k >= 0:
		end := min(k+2, len(r.raw))
		r.left, r.raw = r.raw[1:end], r.raw[end:]
	case k == -128: // does nothing
		r.raw = r.raw[1:]
	default:
		r.same, r.runs, r.raw = r.raw[1], 1-k, r.raw[2:]
	}
	return true
}
