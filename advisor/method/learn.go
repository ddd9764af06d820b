package method

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Timed is one passage through one kind of ground, with the minutes that it took.
type Timed struct {
	Bore        geo.BoreID
	Crew        string // as logged; empty where nobody wrote it
	Class       soil.Class
	BelowWater  bool
	TopM, BaseM float64
	MinutesPerM float64 // mean over the passage
}

// Logged returns the timed layers of a bore; none where minutes were not written down.
func Logged(b geo.Bore) []Timed {
	var out []Timed
	water := waterOf(b)
	for _, l := range b.Layers {
		minutes, known := l.MinutesPerM.Get()
		if !known || minutes <= 0 || l.Class == soil.Unknown {
			continue
		}
		out = append(out, Timed{
			Bore: b.ID, Crew: b.Driller, Class: l.Class, BelowWater: (l.TopM+l.BaseM)/2 > water,
			TopM: l.TopM, BaseM: l.BaseM, MinutesPerM: minutes,
		})
	}
	return out
}

// waterOf is where a crew met water: the first strike, or else the shallowest rest level.
func waterOf(b geo.Bore) float64 {
	water := math.Inf(1)
	for _, s := range b.Strikes {
		water = min(water, s.DepthM)
	}
	if len(b.Strikes) > 0 {
		return water
	}
	for _, l := range b.Levels {
		switch depth, known := l.DepthM.Get(); {
		case l.State == geo.LevelFlowing:
			return 0
		case l.State == geo.LevelRest && known:
			water = min(water, depth)
		}
	}
	return water
}

// cell is a class above or below water; one cell where the same tool does for both.
type cell struct {
	class soil.Class
	below bool
}

func (m *Method) cellOf(class soil.Class, below bool) cell {
	return cell{class, below && m.Ground[class].ToolBelowWater != ""}
}

// speed is the range of the list for a cell.
func (m *Method) speed(c cell) Speed {
	if c.below {
		return m.Ground[c.class].SpeedBelowWater
	}
	return m.Ground[c.class].Speed
}

// Limits of what a logged pace can be, minutes per metre; beyond them a unit or a digit
// slipped. Common practice, no source.
const (
	fastestMinPerM = 0.5
	slowestMinPerM = 6000
)

// Learn estimates the pace of each class anew from logged minutes per metre. The
// logarithm of the minutes that a metre takes at the surface is
//
//	y = μ(class) + u(crew) + e,  μ ~ N(list, S²), u ~ N(0, τ²), e ~ N(0, σ²),
//
// one reading for each bore and class. The middle of the list's range is where μ is
// expected; τ and σ are integrated over a grid, so that with few crews the range stays
// wide. A crew that has logged little is shrunk towards all crews.
//
//   - Shapes: any number of passages, in any order; those of a class that stops the method
//     or that it does not know are left out.
//   - Units: metres and minutes per metre.
//   - Domain: paces within 0.5 to 6,000 minutes per metre; others are counted as at odds.
//   - Cost: 225 grid points, each crews · classes² and one small Cholesky factor.
//   - Source: linear mixed model, any textbook (Searle, Casella and McCulloch 1992);
//     the prior is the list's range, half of its variance between regions (common
//     practice, no source).
//   - Checked by: TestLearnWithoutLogs, TestLearnFindsThePace, TestLearnRangeHolds,
//     TestLearnShrinksCrews, TestMixedAgainstNLME.
func (m *Method) Learn(passages []Timed) *Rates {
	r := &Rates{method: *m, crews: map[string]int{}, cells: map[cell]int{}}
	var data mixed
	for _, o := range m.gather(passages, &r.AtOdds) {
		k, known := r.cells[o.cell]
		if !known {
			k = len(data.prior)
			r.cells[o.cell] = k
			data.prior = append(data.prior, regionVariance(m.speed(o.cell)))
		}
		crew, known := r.crews[o.crew]
		if !known {
			crew = len(r.crews)
			r.crews[o.crew] = crew
		}
		data.add(crew, k, o.lnMin-middle(m.speed(o.cell)))
		r.Readings++
	}
	r.Crews = len(r.crews)
	r.fitted = data.fit()
	r.tabulate()
	return r
}

// observation is what one bore says of one cell.
type observation struct {
	crew  string
	cell  cell
	lnMin float64
}

// gather joins the passages of one bore through one cell: a bore logged metre by metre
// says no more of the crew than one logged by layers.
func (m *Method) gather(passages []Timed, atOdds *int) []observation {
	type key struct {
		bore geo.BoreID
		crew string
		cell cell
	}
	at := map[key]int{}
	var keys []key
	var minutes, metres []float64
	for _, p := range passages {
		if m.Ground[p.Class].Pace == Stop || p.Class == soil.Unknown || !(p.BaseM > p.TopM) {
			continue
		}
		if !(p.MinutesPerM >= fastestMinPerM && p.MinutesPerM <= slowestMinPerM) {
			*atOdds++
			continue
		}
		k := key{p.Bore, p.Crew, m.cellOf(p.Class, p.BelowWater)}
		i, known := at[k]
		if !known {
			i = len(keys)
			at[k], keys = i, append(keys, k)
			minutes, metres = append(minutes, 0), append(metres, 0)
		}
		minutes[i] += p.MinutesPerM * (p.BaseM - p.TopM)
		metres[i] += m.surfaceMetres(p.TopM, p.BaseM)
	}
	out := make([]observation, len(keys))
	for i, k := range keys {
		crew := k.crew
		if crew == "" { // nobody knows whether two unnamed crews are one
			crew = "\x00" + string(k.bore)
		}
		out[i] = observation{crew, k.cell, math.Log(minutes[i] / metres[i])}
	}
	return out
}

// surfaceMetres is how many metres at the surface take as long as those of an interval.
func (m *Method) surfaceMetres(topM, baseM float64) float64 {
	return (baseM - topM) * (1 + m.SlowerPerM*(topM+baseM)/2)
}
