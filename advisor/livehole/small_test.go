package livehole

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Places of the classes that the small pack knows.
const (
	topsoil, clay, sand, hardpan, weathered, rock = 0, 1, 3, 5, 6, 8
)

// small is a pack that can be worked out by counting every column: few cells, six classes,
// transmissivities that are whole numbers, so that no bin is split.
func small() *Pack {
	known := soil.Known()
	p := &Pack{
		Schema: PackSchema, Classes: known[:], CellM: cellM, Cells: 8, GoFrom: 0.7,
		Weights: Weights{Name: 1, Pace: cellM, PaceSD: 0.8, Floor: 1e-3, Missed: 0.1, Perched: 0.05, Slipped: 0.1, Read: 1e-3},
		Level:   Level{Low: []float64{0.6, 1.4, 2.6}, Design: []float64{0.8, 1.6, 3}},
		Yield: Yield{Every: 4, Cell: [][][]float64{
			{{sand: 1, weathered: 1, 8: 0}, {sand: 2, weathered: 1, 8: 0}},
			{{sand: 3, weathered: 1, 8: 0}, {sand: 2, weathered: 2, 8: 0}},
		}},
		Screen: Screen{HighestM: 0.5, LongestM: 2, CoverM: 0},
		Costs:  Costs{Unit: "person-hours", Close: 3, Next: 90, Try: 1},
	}
	for t := range 21 {
		p.Yield.Bins = append(p.Yield.Bins, float64(t))
	}
	for range 12 {
		p.Level.Today, p.Level.SD = append(p.Level.Today, []float64{0.3, 1.1, 2.3}), append(p.Level.SD, []float64{0.4, 0.4, 0.5})
	}
	p.Naming, p.Struck = make([][]float64, classes), make([]float64, classes)
	for k := range p.Naming {
		p.Naming[k] = make([]float64, classes)
		p.Naming[k][k], p.Naming[k][(k+1)%classes] = 0.9, 0.1
		p.Struck[k] = 0.1 + 0.1*float64(k)
	}
	p.Chain = Chain{Share: 0.6, First: []float64{topsoil: 0.7, clay: 0.3, 8: 0}, Knots: []int{1, 7}}
	for _, more := range []int{0, 20000} {
		step := make([]int, classes*classes)
		for j := range classes {
			step[j*classes+clay], step[j*classes+sand], step[j*classes+hardpan] = 30000-more, 25000+more, 15000
			step[j*classes+weathered], step[j*classes+rock] = 25000, 5000
		}
		step[sand*classes+sand] += 40000
		p.Chain.Steps = append(p.Chain.Steps, step)
	}
	p.Logs = []NearLog{
		{Share: 0.25, Runs: [][3]int{{topsoil, 0, 1}, {clay, 1, 3}, {sand, 3, 6}}, Odds: [][]int{{9, 1}, {8, 2}, {9, 1}}},
		{Share: 0.15, Runs: [][3]int{{clay, 0, 2}, {weathered, 2, 4}}, Odds: [][]int{{9, 1}, {7, 3}}, Below: []float64{hardpan: 0.5, rock: 0.5}},
	}
	minutes := []float64{20, 40, 30, 30, 60, 240, 120, 400, 1000}
	p.Methods = []Method{
		{Code: "auger", MaxDepthM: 4, BelowWaterM: 1.5, Cross: []int{8, 8, 8, 8, 1, 1, 3, 0, 0}, Minutes: minutes, SlowerPerM: 0.03, HourCost: 4, SetUpCost: 16, LineCost: 20},
		{Code: "sludging", MaxDepthM: 4, BelowWaterM: 4, Cross: []int{8, 8, 8, 8, 2, 2, 0, 0, 0}, Minutes: minutes, HourCost: 5, SetUpCost: 20, LineCost: 20},
	}
	for i := range p.Methods {
		p.Methods[i].Enough = []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8}
	}
	return p
}

func logTo(cells int, class ...int) Log {
	l := Log{Schema: LogSchema, Method: "auger", Month: 4, DepthM: float64(cells) * cellM}
	for z, k := range class {
		l.Layers = append(l.Layers, Layer{TopM: float64(z) * cellM, BaseM: float64(z+1) * cellM, Class: soil.Class(k + 1)})
	}
	return l
}

// end is what became of a hole in one column.
type end struct {
	works bool
	cost  float64
}

// walk drills one column on by the rules in words: no bins, no chains. What was drilled
// counts as it was named; only its last cell may be another class.
func (d *dug) walk(column []int) (out end) {
	p, m, strike := d.pack, d.method, d.hole.strike
	var body drawnBody
	for z := d.hole.cells; z < p.Cells; z++ {
		middle := (float64(z) + 0.5) * cellM // a cell that is drilled into by half is drilled
		if middle > m.MaxDepthM || strike >= 0 && middle > max(d.today, float64(strike)*cellM)+m.BelowWaterM {
			return out
		}
		k := column[z]
		hours := m.Minutes[k] * (1 + m.SlowerPerM*(float64(z)+0.5)*cellM) * cellM / 60
		if m.Cross[k] < p.Cells && d.crossed(column[:z], k) >= m.Cross[k] {
			out.cost += m.HourCost * min(hours, p.Costs.Try)
			return out
		}
		out.cost += m.HourCost * hours
		if d.rng != nil && d.drawnEnough(z, &body) || d.rng == nil && strike >= 0 && d.enoughAbove(column[:z]) {
			out.works = true
			return out
		}
		if strike < 0 && d.gives(k) && (float64(z)+0.5)*cellM > d.today {
			strike = z
		}
		body.pass(d, z, k, strike >= 0)
	}
	return out
}

// drawnBody is the body at the bottom, its transmissivity drawn into the bins of the pack.
type drawnBody struct {
	t     float64
	cells int
}

func (b *drawnBody) pass(d *dug, z, k int, wet bool) {
	if d.rng == nil {
		return
	}
	if !wet || !d.gives(k) || (float64(z)+0.5)*cellM < max(d.design, d.pack.Screen.HighestM) {
		*b = drawnBody{}
		return
	}
	t := d.onto(b.t, z, k)
	if b.cells++; b.cells == 1 {
		b.t = t
		return
	}
	bins := d.pack.Yield.Bins
	i := 0
	for i+2 < len(bins) && bins[i+1] <= t {
		i++
	}
	b.t = bins[i]
	if d.rng.Float64() < (t-bins[i])/(bins[i+1]-bins[i]) {
		b.t = bins[i+1]
	}
}

func (d *dug) drawnEnough(z int, b *drawnBody) bool {
	return b.cells >= 2 && b.t*d.method.enough(float64(z)*cellM-d.pack.Screen.CoverM-d.design) >= 1
}

// dug is a hole under way in one member.
type dug struct {
	pack          *Pack
	method        *Method
	hole          *hole
	today, design float64
	cell          [][]float64 // by range of depth and class
	rng           *rand.Rand  // draws the bins of a body; nil for none
}

func (d *dug) gives(k int) bool { return d.cell[0][k] > 0 }

// onto is what a body gives with cell z of a class under it.
func (d *dug) onto(t float64, z, k int) float64 {
	cell := d.cell[min(z/d.pack.Yield.Every, len(d.cell)-1)][k]
	return min(t+cell, max(d.pack.Screen.LongestM/cellM*cell, t))
}

// crossed is how much of a class counts against the next cell of it: of the class that may
// be crossed farthest all, of others what lies right above.
func (d *dug) crossed(column []int, k int) (n int) {
	main := -1
	for k, most := range d.method.Cross {
		if most > 0 && most < d.pack.Cells && (main < 0 || most > d.method.Cross[main]) {
			main = k
		}
	}
	below := column[d.hole.cells:]
	if k == main {
		for _, x := range slices.Concat(d.hole.named, below) {
			if x == k {
				n++
			}
		}
		return min(n, d.method.Cross[k])
	}
	n = lastRun(below, k)
	if n < len(below) || d.hole.cells == 0 || column[d.hole.cells-1] != k {
		return n
	}
	return n + min(max(lastRun(d.hole.named, k), 1), d.method.Cross[k])
}

func lastRun(column []int, k int) (n int) {
	for n < len(column) && column[len(column)-1-n] == k {
		n++
	}
	return n
}

// enoughAbove reports that the body at the foot of a column takes a screen that gives
// enough.
func (d *dug) enoughAbove(column []int) bool {
	p := d.pack
	wet := func(column []int) (first int) {
		first = len(column)
		for first > 0 && d.gives(column[first-1]) && (float64(first)-0.5)*cellM >= max(d.design, p.Screen.HighestM) {
			first--
		}
		return first
	}
	seen, from := slices.Clone(column), wet(column)
	if drilled := d.hole.cells; from < drilled {
		if by := wet(d.hole.named); d.hole.strike < 0 { // what gave no water gives none
			from = drilled
		} else if by < drilled-1 { // two cells and more are what they were named
			copy(seen, d.hole.named)
			from = by
		} else {
			from = by // one cell is what it was, none when it was named as tight ground
		}
	}
	t := 0.0
	for i, k := range seen[from:] {
		t = d.onto(t, from+i, k)
	}
	head := float64(len(column))*cellM - p.Screen.CoverM - d.design
	if len(column)-from < 2 || head <= 0 {
		return false
	}
	i := int(head / cellM)
	a, b := d.method.Enough[i], d.method.Enough[min(i+1, len(d.method.Enough)-1)]
	return t*(a+(head/cellM-float64(i))*(b-a)) >= 1
}

// everyColumn calls with every column that goes on from what was drilled by one chain.
func everyColumn(o *outlook, column []int, p float64, cells int, visit func(column []int, p float64)) {
	z := len(column)
	if z == cells {
		visit(column, p)
		return
	}
	for k := range classes {
		q := 0.0
		if z == 0 {
			q = o.odds[0][k]
		} else {
			q = o.steps[z][column[z-1]][k]
		}
		if q > 0 {
			everyColumn(o, append(slices.Clone(column), k), p*q, cells, visit)
		}
	}
}

// The dynamic program gives what counting every column gives.
func TestEnumeration(t *testing.T) {
	p := small()
	struck := logTo(4, topsoil, clay, sand, sand)
	struck.StrikeM = geo.Some(1.2)
	refused := logTo(3, topsoil, clay, clay)
	refused.Refused = true
	logs := []Log{logTo(0), logTo(2, topsoil, clay), logTo(3, topsoil, clay, weathered), struck, logTo(3, clay, hardpan, clay), refused}
	for _, l := range logs {
		h := l.cut()
		looks := p.looks(&l, &h)
		for i := range p.Methods {
			m := &p.Methods[i]
			var chance, cost float64
			for level := range looks {
				d := dug{p, m, &h, p.Level.Today[3][level], p.Level.Design[level], nil, nil}
				for _, d.cell = range p.Yield.Cell {
					share := looks[level].weight / float64(len(p.Yield.Cell))
					for _, start := range starts(&looks[level], &h, m) {
						everyColumn(&looks[level], start.column, share*start.p, p.Cells, func(column []int, q float64) {
							e := d.walk(column)
							cost += q * e.cost
							if e.works {
								chance += q
							}
						})
					}
				}
			}
			got := p.more(m, p.drill(m, &h, l.Month, looks), h.cells, p.Cells)
			const tol = 1e-12 // rounding of sums over a million columns
			if math.Abs(got.Chance-chance) > tol || math.Abs(got.Cost-cost) > 1e-9 {
				t.Errorf("%s from %d cells: chance %.12f, cost %.12f; counted %.12f, %.12f", m.Code, h.cells, got.Chance, got.Cost, chance, cost)
			}
			if h.cells == 0 && (chance < 0.01 || chance > 0.99) {
				t.Errorf("%s: a chance of %.3f tries nothing", m.Code, chance)
			}
		}
	}
}

type begun struct {
	column []int
	p      float64
}

// starts are the columns drilled so far, by what the last cell may be; a class that the
// method cannot stand in has no column.
func starts(o *outlook, h *hole, m *Method) (out []begun) {
	if h.cells == 0 {
		return []begun{{nil, 1}}
	}
	for k, p := range o.bottom {
		if p > 0 && m.Cross[k] > 0 {
			out = append(out, begun{append(slices.Clone(h.named[:h.cells-1]), k), p})
		}
	}
	return out
}
