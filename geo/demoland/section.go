package demoland

import (
	"cmp"
	"slices"

	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Section is a vertical cut through the land: numbers for a drawing. Elevations are
// metres above the sea, distances metres along the line; the slices run over stations.
type Section struct {
	AlongM     []float64
	GroundM    []float64
	NormalLowM []float64 // elevation of rest at the normal low; the others likewise
	DesignLowM []float64
	WetHighM   []float64
	Settings   []Setting
	Bands      []Band // in the order of painting: later ones cover earlier ones
}

// Band is one body of one unit where the section cuts it, as a closed outline.
type Band struct {
	Unit    Unit
	Class   soil.Class
	Grade   soil.Grade
	Body    int
	Outline []Corner
}

// Corner is a point of an outline.
type Corner struct{ AlongM, ElevationM float64 }

// Section cuts the land from a to b at n stations, n >= 2 (fewer are raised to 2).
func (l *Land) Section(a, b coord.LonLat, n int) Section {
	n = max(n, 2)
	from, to := l.frame(a), l.frame(b)
	length := to.minus(from).length()
	var s Section
	columns := make([]Column, n)
	for i := range n {
		t := float64(i) / float64(n-1)
		c := l.column(pt{mix(from.u, to.u, t), mix(from.v, to.v, t)}).Column
		columns[i] = c
		s.AlongM = append(s.AlongM, t*length)
		s.GroundM = append(s.GroundM, c.GroundM)
		s.NormalLowM = append(s.NormalLowM, c.GroundM-c.NormalLowM)
		s.DesignLowM = append(s.DesignLowM, c.GroundM-c.DesignLowM)
		s.WetHighM = append(s.WetHighM, c.GroundM-c.WetHighM)
		s.Settings = append(s.Settings, c.Setting)
	}
	s.Bands = bands(columns, s.AlongM)
	return s
}

// body tells one body of ground from another.
type body struct {
	unit Unit
	body int
}

// spans lists where each body lies: the depths of its first top and last base at every
// station, with the bodies in the order in which they were laid down.
func spans(columns []Column) (order []body, at map[body][]*[2]float64) {
	at = map[body][]*[2]float64{}
	for i, c := range columns {
		for _, l := range c.Layers {
			key := body{l.Unit, l.Body}
			if at[key] == nil {
				at[key] = make([]*[2]float64, len(columns))
				order = append(order, key)
			}
			if at[key][i] == nil {
				at[key][i] = &[2]float64{l.TopM, l.BaseM}
			}
			at[key][i][1] = l.BaseM
		}
	}
	slices.SortStableFunc(order, func(x, y body) int { return cmp.Compare(x.rank(), y.rank()) })
	return order, at
}

// rank orders bodies as they were cut into each other.
func (b body) rank() int {
	switch {
	case b.unit == ConfiningClay:
		return 1 << 30
	case b.unit == ConfinedSand:
		return 1<<30 + 1
	}
	return b.body
}

func bands(columns []Column, along []float64) []Band {
	order, at := spans(columns)
	var out []Band
	for _, key := range order {
		m := key.unit.material()
		depths := at[key]
		for i := 0; i < len(columns); i++ {
			if depths[i] == nil {
				continue
			}
			first := i
			for i+1 < len(columns) && depths[i+1] != nil {
				i++
			}
			out = append(out, Band{key.unit, m.class, m.grade, key.body, outline(columns, along, depths, first, i)})
		}
	}
	return out
}

// outline runs along the tops from station first to last and back along the bases,
// pinching out halfway to the stations where the body is gone.
func outline(columns []Column, along []float64, depths []*[2]float64, first, last int) []Corner {
	var tops, bases []Corner
	pinch := func(from, to int) Corner {
		middle := (depths[from][0] + depths[from][1]) / 2
		return Corner{(along[from] + along[to]) / 2, (columns[from].GroundM+columns[to].GroundM)/2 - middle}
	}
	if first > 0 {
		tops = append(tops, pinch(first, first-1))
	}
	for i := first; i <= last; i++ {
		tops = append(tops, Corner{along[i], columns[i].GroundM - depths[i][0]})
		bases = append(bases, Corner{along[i], columns[i].GroundM - depths[i][1]})
	}
	if last+1 < len(columns) {
		tops = append(tops, pinch(last, last+1))
	}
	slices.Reverse(bases)
	return append(tops, bases...)
}
