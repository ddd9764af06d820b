package draw

// Axis is one axis of a plot. It ends on round values that take in all of the data.
type Axis struct {
	Label  string
	Reach  []float64            // values it takes in whatever the data, such as 0 and 1
	Number func(float64) string // writes ticks; nil: decimal point
	Powers bool                 // values are logarithms to base 10: ticks at whole powers of ten
	Ticks  []float64            // where ticks stand, in place of round values; they take in all of the data
	whole  bool                 // counts: no ticks between whole numbers
}

// ticks divides a length so that neighbouring labels keep apart; roomMM is the least
// stretch of one part.
func (a Axis) ticks(lo, hi, lengthMM, roomMM float64) []float64 {
	if len(a.Ticks) > 1 {
		return a.Ticks
	}
	n := max(1, int(lengthMM/roomMM))
	if a.whole || a.Powers {
		n = min(n, max(1, int(hi-lo)))
	}
	return Cover(lo, hi, n)
}

// ticksAcross divides a length for labels that stand side by side.
func (a Axis) ticksAcross(lo, hi, lengthMM float64) []float64 {
	const gap, least = 2.0, 13.0 // mm
	for room := least; room < lengthMM; room *= 1.25 {
		ticks := a.ticks(lo, hi, lengthMM, room)
		if (widest(ticks, a.Number)+gap)*float64(len(ticks)-1) <= lengthMM {
			return ticks
		}
	}
	return a.ticks(lo, hi, lengthMM, lengthMM)
}

// PlotOptions are the sheet and the words of a plot.
type PlotOptions struct {
	WidthMM, HeightMM float64
	ID, Title, Desc   string
	X, Y              Axis
	Words             map[string]string // of the legend; each plot names its keys
	Count             func(int) string  // writes a number of sites; nil: digits
	Empty             string            // said in place of the plot where there is nothing to plot
}

// defaults fills in the writers of numbers.
func (o PlotOptions) defaults() PlotOptions {
	if o.X.Number == nil {
		o.X.Number = plainNumber
	}
	if o.Y.Number == nil {
		o.Y.Number = plainNumber
	}
	if o.Count == nil {
		o.Count = plainCount
	}
	return o
}

// reach widens the area of the data to what the axes must take in, and gives it a size.
func (o PlotOptions) reach(e extent) extent {
	for _, v := range o.X.Reach {
		e.minX, e.maxX = min(e.minX, v), max(e.maxX, v)
	}
	for _, v := range o.Y.Reach {
		e.minY, e.maxY = min(e.minY, v), max(e.maxY, v)
	}
	e.minX, e.maxX = apart(e.minX, e.maxX)
	e.minY, e.maxY = apart(e.minY, e.maxY)
	return e
}

// apart moves equal ends apart, to have an axis for a single value.
func apart(lo, hi float64) (float64, float64) {
	switch {
	case lo != hi:
		return lo, hi
	case lo == 0:
		return 0, 1
	default:
		return min(0, 2*lo), max(0, 2*lo)
	}
}
