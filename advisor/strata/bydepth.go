package strata

// byDepth is a number for each range of depth that scores are told for: to 10, to 20 and to
// 40 m.
type byDepth [3]float64

// deeper are the first cells of the second and the third range.
var deeper = [...]int{10 / CellM, 20 / CellM}

// rangeOf is the range that a cell lies in.
func rangeOf(cell int) (d int) {
	for d < len(deeper) && cell >= deeper[d] {
		d++
	}
	return d
}

// everywhere is one number for all depths.
func everywhere(x float64) (b byDepth) {
	for d := range b {
		b[d] = x
	}
	return b
}
