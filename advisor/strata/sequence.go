package strata

import "waterstrike/geo/soil"

// Layer is one interval of the most likely sequence, with what else it may be.
type Layer struct {
	TopM, BaseM  float64
	Class        soil.Class
	Chance       float64 // mean odds of the class over the interval
	Second       soil.Class
	SecondChance float64 // mean odds of the next likely class
}

// The rules by which cells are joined to layers that a person can read: a layer shorter
// than thinnestM is not told apart from the one above it, and a layer is only cut for
// another second class where each part is at least worthCutM long and that class is
// likely enough to matter.
const (
	thinnestM    = 1.0
	worthCutM    = 2.0
	worthTelling = 0.2
)

// Layers joins neighbouring cells into the most likely sequence. Within a run of one most
// likely class it cuts where the next likely class becomes another one, so that sand under
// a clay that is only a little likelier is not hidden.
//
//   - Units: metres; odds between 0 and 1.
//   - Domain: layers join without gaps from the surface to the model's depth.
//   - Source: common practice, no source.
func (o *Odds) Layers() []Layer {
	var runs []run
	for i := range o {
		next := run{i, i + 1, o.two(i)}
		if n := len(runs); n > 0 && runs[n-1].two == next.two {
			runs[n-1].to = i + 1
			continue
		}
		runs = append(runs, next)
	}
	var out []Layer
	for _, r := range o.joined(runs) {
		out = append(out, o.over(r))
	}
	return out
}

// joined takes runs that are too short to be told apart into the one above them.
func (o *Odds) joined(runs []run) []run {
	out := runs[:1]
	for _, r := range runs[1:] {
		last := &out[len(out)-1]
		short := min(last.lengthM(), r.lengthM()) < worthCutM
		switch {
		case last.two[0] == r.two[0] && (short || last.two == r.two), r.lengthM() < thinnestM, last.lengthM() < thinnestM:
			if r.lengthM() > last.lengthM() {
				last.two = r.two
			}
			last.to = r.to
		default:
			out = append(out, r)
		}
	}
	return out
}

// run is a range of cells with the same two likeliest classes.
type run struct {
	from, to int
	two      [2]soil.Class
}

func (r run) lengthM() float64 { return float64(r.to-r.from) * CellM }

// two returns the likeliest class of a cell, and the next one where it is worth telling.
func (o *Odds) two(cell int) [2]soil.Class {
	first, second := likeliest(o[cell])
	if o[cell][second-1] < worthTelling {
		return [2]soil.Class{first}
	}
	return [2]soil.Class{first, second}
}

// over averages the odds of a run of cells.
func (o *Odds) over(r run) Layer {
	var mean [soil.Count]float64
	for i := r.from; i < r.to; i++ {
		for k, p := range o[i] {
			mean[k] += p / float64(r.to-r.from)
		}
	}
	first, second := likeliest(mean)
	return Layer{
		TopM: float64(r.from) * CellM, BaseM: float64(r.to) * CellM,
		Class: first, Chance: mean[first-1], Second: second, SecondChance: mean[second-1],
	}
}

// likeliest returns the two likeliest classes, the lower code first where they are equal.
func likeliest(row [soil.Count]float64) (first, second soil.Class) {
	first = heaviest(row)
	row[first-1] = -1
	return first, heaviest(row)
}
