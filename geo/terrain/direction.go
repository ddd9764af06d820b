package terrain

// direction is where a cell's water goes: one of the eight neighbours by number, out of
// the grid, or not known.
type direction uint8

const (
	leaves  direction = 8 // over the edge, into cells without a value, or into the sea
	nowhere direction = 9 // the cell has no value
	open    direction = 10
)

// The neighbours, clockwise from east; the one across is four further on.
var (
	southward = [8]int{0, 1, 1, 1, 0, -1, -1, -1}
	eastward  = [8]int{1, 1, 0, -1, -1, -1, 0, 1}
)

// across is the direction back.
func across(k int) direction { return direction((k + 4) % 8) }

// neighbour returns the index of a neighbour of a cell; false outside.
func (f *Frame) neighbour(row, col, k int) (int, bool) {
	row, col = row+southward[k], col+eastward[k]
	if row < 0 || col < 0 || row >= f.Rows || col >= f.Cols {
		return 0, false
	}
	return row*f.Cols + col, true
}
