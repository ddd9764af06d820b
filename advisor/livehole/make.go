package livehole

import (
	"context"
	"math"
	"slices"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// How finely a pack is cut; more would not fit into [PackBytes] or answer in time.
const (
	levels    = 10
	everyCell = 60    // so many cells fit with a step for each of them; of more every other one
	leastPart = 0.002 // share below which a log is left to the chain
)

// bandAt are the bands of conductivity, in standard deviations: of equal chance with
// the mean and the variance of a standard Normal.
const bands = 5

// Maker makes packs from one advisor. It is never changed and safe for concurrent use.
type Maker struct {
	advisor *advisor.Advisor
	next    geo.Opt[float64] // cost of a success at the next site; missing where no place tells
}

// NewMaker works out what a success costs elsewhere in the region: at places like those
// that were drilled, with the method of the best chance, as far as it goes,
//
//		next = Σ (setting up + drilling + chance·lining + (1-chance)·closing) / Σ chance.
//
//	  - Errors: the context's error when it ends.
//	  - Cost: some twelve answers.
func NewMaker(ctx context.Context, a *advisor.Advisor) (*Maker, error) {
	m := &Maker{advisor: a}
	cost, chance := 0.0, 0.0
	for _, at := range a.Spots(spots) {
		parts, err := a.Parts(ctx, at)
		if geo.KindOf(err) == geo.TooFewData {
			continue
		}
		if err != nil {
			return nil, err
		}
		p := packOf(parts)
		p.price(parts, nil)
		c, works := p.asUsual()
		cost, chance = cost+c, chance+works
	}
	if chance > 0 {
		m.next = geo.Some(digits(cost / chance))
	}
	return m, nil
}

// spots is how many places of the region are looked at for what a success costs there.
const spots = 12

// asUsual is what the hole costs and brings with the method of the best chance as far as
// it goes, drilled when the water is lowest.
func (p *Pack) asUsual() (cost, chance float64) {
	month := 1
	for i := range p.Level.Today {
		if p.Level.Today[i][0] > p.Level.Today[month-1][0] {
			month = i + 1
		}
	}
	l := Log{Schema: LogSchema, Method: p.Methods[0].Code, Month: month}
	h := l.cut()
	looks := p.looks(&l, &h)
	for i := range p.Methods {
		m := &p.Methods[i]
		all := p.more(m, p.drill(m, &h, month, looks), 0, p.Cells)
		if i == 0 || all.Chance > chance {
			chance = all.Chance
			cost = m.SetUpCost + all.Cost + chance*m.LineCost + (1-chance)*p.Costs.Close
		}
	}
	return cost, chance
}

// Make puts the pack of a site together.
//
// Errors are those of [advisor.Advisor.Parts].
func (m *Maker) Make(ctx context.Context, q advisor.Question) (Pack, error) {
	parts, err := m.advisor.Parts(ctx, q.At)
	if err != nil {
		return Pack{}, err
	}
	advice, err := m.advisor.Advise(ctx, q)
	if err != nil {
		return Pack{}, err
	}
	p := packOf(parts)
	p.Village = q.Village
	p.price(parts, advice.Plan)
	own, chance := p.asUsual()
	p.Costs.Next = m.next.Or(digits(own / max(chance, 0.05)))
	p.order(advice.Methods)
	return p, nil
}

// order puts the methods in the order of an advice; those that it does not speak of stay
// behind.
func (p *Pack) order(said []advisor.MethodChance) {
	place := func(m Method) int {
		for i, c := range said {
			if c.Method == m.Code {
				return i
			}
		}
		return len(said)
	}
	slices.SortStableFunc(p.Methods, func(a, b Method) int { return place(a) - place(b) })
}

// packOf is a pack without its costs.
func packOf(parts advisor.Parts) Pack {
	known, struck := soil.Known(), strata.Struck()
	p := Pack{
		Schema: PackSchema, Snapshot: parts.Snapshot, Version: parts.Version, At: parts.At,
		Classes: known[:], CellM: strata.CellM, Cells: deepest(parts), GoFrom: parts.GoFrom,
		Struck: struck[:], Weights: usualWeights(), Level: levelsOf(parts.Water), Yield: yieldOf(parts, deepest(parts)),
		Screen: Screen{parts.Screen.HighestM, parts.Screen.LongestM, parts.Screen.CoverM},
	}
	_, p.Weights.PaceSD = strata.UsualMinutes()
	for _, named := range strata.Naming() {
		p.Naming = append(p.Naming, rounded(named[:], 1e-5))
	}
	p.columnsOf(parts)
	for _, d := range parts.Drilling {
		p.Methods = append(p.Methods, methodOf(d, p.Cells))
	}
	return p
}

// deepest is how many cells the deepest method needs.
func deepest(parts advisor.Parts) int {
	m := 0.0
	for _, d := range parts.Drilling {
		m = max(m, d.Method.MaxDepthM)
	}
	return min(int(math.Ceil(m/cellM)), strata.Cells)
}

// usualWeights are common practice, no source, but for the exponents: a layer is misnamed
// once, not in each of its cells, and a metre's minutes are two cells'. Rare lies between two
// odds of a pack, so that no rounding decides.
func usualWeights() Weights {
	return Weights{Name: 1, Pace: cellM, Floor: 1e-3, Missed: 0.1, Perched: 0.05, Slipped: 0.1, Read: 1e-3, Rare: 0.000995, Least: 1e-7, Apart: 0.02}
}

func levelsOf(water level.Distribution) (out Level) {
	out.Today, out.SD = make([][]float64, 12), make([][]float64, 12)
	for i := range levels {
		low := water.Low((float64(i) + 0.5) / levels)
		out.Low, out.Design = append(out.Low, round(low, 1e-3)), append(out.Design, round(water.DesignLow(low), 1e-3))
		for month := range out.Today {
			out.Today[month] = append(out.Today[month], round(water.Today(low, time.Month(month+1)), 1e-3))
			out.SD[month] = append(out.SD[month], round(water.TodaySD(low, time.Month(month+1)), 1e-3))
		}
	}
	return out
}

// yieldOf spreads the conductivity of every class that gives water over the bands. The
// bins rise by three tenths from half a square metre a day, which no pump can use.
func yieldOf(parts advisor.Parts, cells int) (out Yield) {
	out.Every = int(parts.YieldsM / cellM)
	for i := range bands {
		var cell [][]float64
		for _, by := range parts.Yields {
			of := make([]float64, classes)
			for k, yields := range by {
				if advisor.WorthScreening(soil.Class(k + 1)) {
					of[k] = digits(metresPerDay(yields, (float64(i)+0.5)/bands) * cellM)
				}
			}
			cell = append(cell, of)
		}
		out.Cell = append(out.Cell, cell[:min(len(cell), (cells+out.Every-1)/out.Every)])
	}
	out.Bins = []float64{0}
	for t := 0.5; t < 40; t *= 1.3 {
		out.Bins = append(out.Bins, digits(t))
	}
	return out
}

// metresPerDay is the conductivity that a share of the ground stays below.
func metresPerDay(of []advisor.Yield, share float64) float64 {
	lo, hi := -12.0, 2.0 // log10 of m/s, beyond all ground
	for hi-lo > 1e-6 {
		mid, below := (lo+hi)/2, 0.0
		for _, y := range of {
			below += y.Share * math.Erfc((y.Log10MPerS-mid)/y.SDDecades/math.Sqrt2) / 2
		}
		if below < share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Pow(10, lo) * 86400
}

// columnsOf takes over the mixture. Logs that hardly count are left to the chain; where none
// counts their list is empty, never null, which a phone could not go through.
func (p *Pack) columnsOf(parts advisor.Parts) {
	total := parts.Layers.Rest
	p.Logs = []NearLog{}
	for _, log := range parts.Layers.Logs {
		if log.Share < leastPart {
			continue
		}
		total += log.Share
		near := NearLog{Share: log.Share, Runs: [][3]int{}, Odds: [][]int{}}
		for _, run := range log.Runs {
			if run.From < p.Cells {
				near.Runs = append(near.Runs, [3]int{int(run.Class) - 1, run.From, min(run.To, p.Cells)})
				near.Odds = append(near.Odds, numbersOf(run))
			}
		}
		if log.Below != nil {
			near.Below = rounded(log.Below[:], 1e-4)
		}
		p.Logs = append(p.Logs, near)
	}
	for i := range p.Logs {
		p.Logs[i].Share = round(p.Logs[i].Share/total, 1e-6)
	}
	p.Chain = Chain{Share: round(parts.Layers.Rest/total, 1e-6), First: rounded(parts.Layers.First[:], 1e-5)}
	every := 1 + p.Cells/(everyCell+1)
	for z := 1; z < p.Cells-1; z += every {
		p.Chain.Knots = append(p.Chain.Knots, z)
	}
	p.Chain.Knots = append(p.Chain.Knots, p.Cells-1)
	for _, z := range p.Chain.Knots {
		var step []int
		for _, r := range parts.Layers.Steps[z] {
			for _, q := range r {
				step = append(step, int(math.Round(q*1e5)))
			}
		}
		p.Chain.Steps = append(p.Chain.Steps, step)
	}
	for z := range p.Cells {
		var mille []int
		for _, q := range parts.Odds[z] {
			mille = append(mille, int(math.Round(q*1000)))
		}
		p.OddsMille = append(p.OddsMille, mille)
	}
}

// numbersOf are the odds of a run for what its class is named for.
func numbersOf(run strata.Run) (out []int) {
	for k, q := range strata.Naming()[run.Class-1] {
		if q > 0 {
			out = append(out, int(math.Round(run.Odds[k]*1e5)))
		}
	}
	return out
}

func round(x, step float64) float64 {
	per := math.Round(1 / step)
	return math.Round(x*per) / per
}

func rounded(x []float64, step float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = round(v, step)
	}
	return out
}

// digits keeps four digits.
func digits(x float64) float64 {
	if x == 0 {
		return 0
	}
	return round(x, math.Pow(10, math.Floor(math.Log10(x))-3))
}
