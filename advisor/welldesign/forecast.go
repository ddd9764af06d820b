package welldesign

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"waterstrike/geo"
)

// Possible is one column that may lie under the site, with how likely it is.
type Possible struct {
	Site
	Weight float64
}

// Enough is an amount that is enough in half, and in four fifths, of the wells that fit.
type Enough struct {
	P50 float64 `json:"p50"`
	P80 float64 `json:"p80"`
}

// Forecast is what a well will take, over everything that the ground may be.
type Forecast struct {
	Fits    float64             `json:"fits"`   // share of what may lie there in which a safe well yields
	Unsafe  float64             `json:"unsafe"` // in which water could be drawn and not kept clean
	Why     []WhyShare          `json:"why"`    // of the rest, the most frequent first
	BottomM Enough              `json:"bottomM"`
	ScreenM Enough              `json:"screenM"` // depth of its top
	Loads   []Load              `json:"loads,omitempty"`
	DrillH  Enough              `json:"drillH"`
	CrewH   Enough              `json:"crewH"`
	DaysOut Enough              `json:"daysOut"`
	Tools   []ToolShare         `json:"tools,omitempty"` // that the wells that fit take
	Money   geo.Opt[MoneyShare] `json:"money,omitzero"`  // with a price list alone
	Well    geo.Opt[int]        `json:"well,omitzero"`   // index of the column whose well is nearest to the middle depth
}

// WhyShare is how often a design fails for one reason.
type WhyShare struct {
	Code  geo.Code `json:"code"`
	Share float64  `json:"share"`
}

// ToolShare is how often a tool is needed.
type ToolShare struct {
	Tool  geo.Code `json:"tool"`
	Share float64  `json:"share"`
}

// MoneyShare is what wells cost, as far as the price list tells.
type MoneyShare struct {
	Currency string        `json:"currency"`
	Missing  []geo.Message `json:"missing,omitempty"` // what has no price: the wells cost more
	Enough
}

// Load is how much of an item is enough, and how much of it to load.
type Load struct {
	Item Item `json:"item"`
	Unit Unit `json:"unit"`
	Enough
	Carry float64 `json:"carry"` // for four wells in five, whole pieces, with spares
}

// strata cut the spread of the pace into equal parts, each standing for its middle: Φ⁻¹ of
// 0.1, 0.3, 0.5, 0.7 and 0.9.
var strata = [...]float64{-1.2815515655446004, -0.5244005127080407, 0, 0.5244005127080407, 1.2815515655446004}

// Foresee designs a well for everything that may lie under a site.
//
//   - Shapes: at least one column; weights need not add up to 1.
//   - Units: see [Forecast].
//   - Domain: weights not below 0, their sum above 0. A column counts by its weight times
//     the chance that its well gives what is wanted.
//   - Errors: a [geo.Invalid] error for a column that contradicts itself, or weights that
//     say nothing. That no well fits is no error: nothing is then foreseen but why.
//   - Source: quantities that are enough in half and four fifths of cases.
//   - Checked by: TestForecastLaws, TestForecastOfOne, ExampleForesee.
func Foresee(columns []Possible, k Kit) (Forecast, []Well, error) {
	total := 0.0
	for _, c := range columns {
		if !(c.Weight >= 0) || math.IsInf(c.Weight, 0) {
			return Forecast{}, nil, wrongWeights(fmt.Sprint(c.Weight))
		}
		total += c.Weight
	}
	if total == 0 {
		return Forecast{}, nil, wrongWeights("0")
	}
	wells := make([]Well, len(columns))
	weights := make([]float64, len(columns))
	why := map[geo.Code]float64{}
	var out Forecast
	for i, c := range columns {
		w, err := Design(c.Site, k)
		if err != nil {
			return Forecast{}, nil, err
		}
		wells[i] = w
		share := c.Weight / total
		switch w.Verdict {
		case Fits:
			weights[i] = share * w.Chance
			out.Fits += weights[i]
			why["well.why.too-little"] += share - weights[i]
		case Unsafe:
			out.Unsafe += share
			fallthrough
		default:
			why[w.Why[0].Code] += share
		}
	}
	out.Why = ranked(why)
	out.measure(wells, weights, k)
	return out, wells, nil
}

func wrongWeights(value string) error {
	return geo.Fail(geo.Invalid, "welldesign.Foresee", geo.Say("well.input.weights", geo.With("value", geo.Text(value))), nil)
}

func ranked(why map[geo.Code]float64) []WhyShare {
	var out []WhyShare
	for code, share := range why {
		if share > 0 {
			out = append(out, WhyShare{code, share})
		}
	}
	slices.SortFunc(out, func(a, b WhyShare) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Code, b.Code))
	})
	return out
}

// measure gathers depths, loads and hours of the wells that fit.
func (f *Forecast) measure(wells []Well, weights []float64, k Kit) {
	if f.Fits == 0 {
		return
	}
	var bottom, screen, drill, crew, days, money sample
	items := map[Item]*sample{}
	tools := map[geo.Code]float64{}
	for i, w := range wells {
		if weights[i] == 0 {
			continue
		}
		bottom.add(w.BottomM, weights[i])
		screen.add(w.ScreenM[0], weights[i])
		for j, z := range strata {
			part := weights[i] / float64(len(strata))
			work := Hours(w, k, z)
			drill.add(work.DrillH, part)
			crew.add(work.CrewH, part)
			days.add(work.DaysOut, part)
			share := (float64(j) + 0.5) / float64(len(strata))
			loads := Quantities(w, k, share)
			if k.Prices != nil {
				money.add(CostOf(w, k, z, share).Known.Amount, part)
			}
			for _, item := range Items() { // an item that a well does not take counts as none
				if items[item] == nil {
					items[item] = new(sample)
				}
				items[item].add(loads[item], part)
			}
		}
		for _, tool := range toolsOf(w) {
			tools[tool] += weights[i] / f.Fits
		}
	}
	f.BottomM, f.ScreenM = bottom.enough(), screen.enough()
	f.DrillH, f.CrewH, f.DaysOut = drill.enough(), crew.enough(), days.enough()
	f.Tools = toolShares(tools)
	middle := nearest(wells, weights, f.BottomM.P50)
	f.Well = geo.Some(middle)
	if k.Prices != nil {
		f.Money = geo.Some(MoneyShare{k.Prices.Currency, CostOf(wells[middle], k, 0, 0.5).Missing, money.enough()})
	}
	for _, item := range Items() {
		if e := items[item].enough(); e.P80 > 0 {
			f.Loads = append(f.Loads, Load{item, item.Unit(), e, k.Rules.carry(item, e.P80)})
		}
	}
}

// Cover raises what is loaded to what one well takes, in the middle case: the one that a
// crew is shown.
//
//   - Checked by: TestForecastCoversTheWellShown.
func (f *Forecast) Cover(w Well, k Kit) {
	takes := Quantities(w, k, 0.5)
	for _, item := range Items() {
		carry := k.Rules.carry(item, takes[item])
		i := slices.IndexFunc(f.Loads, func(l Load) bool { return l.Item == item })
		switch {
		case i >= 0:
			f.Loads[i].Carry = max(f.Loads[i].Carry, carry)
		case takes[item] > 0:
			f.Loads = append(f.Loads, Load{Item: item, Unit: item.Unit(), Carry: carry})
		}
	}
}

// carry rounds an amount up to what can be loaded, with spares for pipe, joints and glue.
func (r *Rules) carry(item Item, amount float64) float64 {
	switch item {
	case CasingPipe, ScreenPipe, Joints, Glue:
		amount += max(1, amount*r.Pipe.Spare.Value)
	}
	if units[item].whole {
		return math.Ceil(amount - slackM)
	}
	return math.Ceil(amount*100-slackM) / 100
}

func toolsOf(w Well) []geo.Code {
	var out []geo.Code
	for _, t := range w.Tools {
		code := geo.Code("tool." + t.Tool)
		if t.Tool != "" && !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out
}

func toolShares(shares map[geo.Code]float64) []ToolShare {
	var out []ToolShare
	for tool, share := range shares {
		out = append(out, ToolShare{tool, min(share, 1)})
	}
	slices.SortFunc(out, func(a, b ToolShare) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Tool, b.Tool))
	})
	return out
}

// nearest is the well that fits whose bottom is nearest to a depth, the likelier one where
// two are as near.
func nearest(wells []Well, weights []float64, bottomM float64) int {
	best := -1
	for i, w := range wells {
		if weights[i] == 0 {
			continue
		}
		if best < 0 {
			best = i
			continue
		}
		a, b := math.Abs(w.BottomM-bottomM), math.Abs(wells[best].BottomM-bottomM)
		if a < b || a == b && weights[i] > weights[best] {
			best = i
		}
	}
	return best
}

// sample are weighed values.
type sample struct{ values []weighed }

type weighed struct{ value, weight float64 }

func (s *sample) add(value, weight float64) { s.values = append(s.values, weighed{value, weight}) }

// enough returns the values that half and four fifths of the weight do not exceed.
func (s *sample) enough() Enough {
	slices.SortStableFunc(s.values, func(a, b weighed) int { return cmp.Compare(a.value, b.value) })
	total := 0.0
	for _, v := range s.values {
		total += v.weight
	}
	return Enough{s.at(0.5 * total), s.at(0.8 * total)}
}

func (s *sample) at(weight float64) float64 {
	sum := 0.0
	for _, v := range s.values {
		if sum += v.weight; sum >= weight*(1-1e-12) {
			return v.value
		}
	}
	return s.values[len(s.values)-1].value
}
