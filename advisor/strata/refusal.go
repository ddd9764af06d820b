package strata

import (
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// refusals holds, for each method, the chance that a cell of each class stops it.
type refusals map[geo.Method]*row

// Before any log is seen, each class stops hand tools in these shares of cells, worth
// priorDrilled cells of experience. Common practice, no source.
var priorRefusal = row{
	soil.Topsoil - 1: 0.006, soil.Clay - 1: 0.006, soil.Silt - 1: 0.006, soil.Sand - 1: 0.006,
	soil.Gravel - 1: 0.06, soil.Hardpan - 1: 0.16, soil.WeatheredRock - 1: 0.06,
	soil.FracturedRock - 1: 0.16, soil.Rock - 1: 0.2,
}

const priorDrilled = 10

// of returns the likelihood of a refusal by class, for a method.
func (r refusals) of(method geo.Method) *row {
	if of, ok := r[method]; ok {
		return of
	}
	return &priorRefusal
}

// unlogged is how often a layer that refuses begins right at the end of a hole, and is not
// in its log because the bit brought nothing up; hardLayers says of which class it is.
// Common practice, no source.
const unlogged = 0.005

var hardLayers = row{soil.Hardpan - 1: 0.2, soil.WeatheredRock - 1: 0.2, soil.FracturedRock - 1: 0.3, soil.Rock - 1: 0.3}

// stopped turns a step into that below the end of a refused log,
//
//	T'(j,k) = c P(refusal | k, method) ((1-u) T(j,k) + u h(k)).
func (r refusals) stopped(method geo.Method, step *matrix) *matrix {
	out, by := new(matrix), r.of(method)
	for j := range out {
		out[j] = stoppedUnder(by, &step[j])
	}
	return out
}

// stoppedUnder is one row of it.
func stoppedUnder(refuses, step *row) (out row) {
	for k := range out {
		out[k] = refuses[k] * ((1-unlogged)*step[k] + unlogged*hardLayers[k])
	}
	normalise(&out)
	return out
}

// experience counts, for each method, the cells of each class that it passed and those
// that refused it.
type experience map[geo.Method]*struct{ passed, refused row }

func (e experience) of(method geo.Method) *struct{ passed, refused row } {
	if e[method] == nil {
		e[method] = new(struct{ passed, refused row })
	}
	return e[method]
}

// refusals returns the shares of cells that refused,
//
//	P(refusal | class, method) = (refused + s p) / (passed + refused + s),
//
// with p the prior share and s the cells it is worth.
func (e experience) refusals() refusals {
	out := refusals{}
	for method, x := range e {
		of := new(row)
		for k := range of {
			of[k] = (x.refused[k] + priorDrilled*priorRefusal[k]) / (x.passed[k] + x.refused[k] + priorDrilled)
		}
		out[method] = of
	}
	return out
}
