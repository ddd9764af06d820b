package demoland

// ColumnM is the depth to which columns are known.
const ColumnM = 60.0

// leastM is the thinnest interval kept: below it a unit has pinched out.
const leastM = 0.05

// stack is a column in the making.
type stack struct{ layers []Layer }

func (s *stack) baseM() float64 {
	if len(s.layers) == 0 {
		return 0
	}
	return s.layers[len(s.layers)-1].BaseM
}

// lay puts a unit under what is there.
func (s *stack) lay(u Unit, thickM float64) {
	top := s.baseM()
	base := min(top+thickM, ColumnM)
	if base-top < leastM {
		return
	}
	if n := len(s.layers); n > 0 && s.layers[n-1].Unit == u && s.layers[n-1].Body == 0 {
		s.layers[n-1].BaseM = base
		return
	}
	s.layers = append(s.layers, Layer{TopM: top, BaseM: base, Unit: u})
}

// layTo puts a unit under what is there, down to a depth.
func (s *stack) layTo(u Unit, baseM float64) { s.lay(u, baseM-s.baseM()) }

// cut replaces what lies between two depths by a body of another unit.
func (s *stack) cut(u Unit, body int, topM, baseM float64) {
	baseM = min(baseM, s.baseM())
	if baseM-topM < leastM {
		return
	}
	out := make([]Layer, 0, len(s.layers)+2)
	put := func(l Layer) {
		if l.BaseM-l.TopM > 1e-9 {
			out = append(out, l)
		}
	}
	for _, l := range s.layers {
		above, below := l, l
		above.BaseM, below.TopM = min(l.BaseM, topM), max(l.TopM, baseM)
		put(above)
		if l.TopM <= topM && topM < l.BaseM {
			put(Layer{TopM: topM, BaseM: baseM, Unit: u, Body: body})
		}
		put(below)
	}
	s.layers = out
}
