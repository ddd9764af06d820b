package advisor

import (
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/welldesign"
)

// plannedFor is how many of the grounds in which a method succeeds a well is designed for:
// enough for a depth that four in five do not exceed, few enough for an answer in time.
const plannedFor = 20

// place is one possible ground with the water at one level.
type place struct{ ground, level int }

// working is how likely each place is and the method succeeds there, ground by ground and
// down through the levels.
type working struct {
	places []place
	shares []float64
	total  float64
}

// worksIn gathers where in the ensemble a method succeeds.
func worksIn(tables []*outcomes, e *draws) (w working) {
	for g, table := range tables {
		for cell, odds := range e.odds {
			if p := e.weights[g] * odds * table[cell].chance(); p > 0 {
				w.places, w.shares = append(w.places, place{g, cell}), append(w.shares, p)
				w.total += p
			}
		}
	}
	return w
}

// pick takes n places at equal steps of what adds up, so that each stands for as much as
// the others and no random number is needed.
func (w working) pick(n int) []place {
	var out []place
	sum, at := 0.0, 0
	for i, p := range w.shares {
		sum += p
		for at < n && (float64(at)+0.5)/float64(n)*w.total <= sum {
			out = append(out, w.places[i])
			at++
		}
	}
	return out
}

// columns are the grounds that a well is designed for, each as likely as the others.
func (a *Advisor) columns(grounds []weighed, w working, near gathered, water level.Distribution) []welldesign.Possible {
	var out []welldesign.Possible
	for _, p := range w.pick(plannedFor) {
		low := levelTopM + float64(p.level)*levelStepM
		site := welldesign.Site{
			Layers: layersIn(grounds[p.ground].classes, near),
			Water: welldesign.Water{
				WetHighM: min(water.WetHigh(low), low), NormalLowM: low, DesignLowM: max(water.DesignLow(low), low),
			},
			AltitudeM: near.land.GroundM,
		}
		out = append(out, welldesign.Possible{Site: site, Weight: 1})
	}
	return out
}

// layersIn joins the cells of a column into layers, with the grades that logs found; a layer
// ends where another grade begins.
func layersIn(classes strata.Column, near gathered) []welldesign.Layer {
	var out []welldesign.Layer
	var of likes
	for i, class := range classes {
		top := float64(i) * strata.CellM
		like := of.at(class, i, near.described[:min(closest, len(near.described))])
		if n := len(out); n > 0 && out[n-1].Class == class && out[n-1].Grade == like.Grade && out[n-1].Clayey == like.Clayey {
			out[n-1].BaseM = top + strata.CellM
			continue
		}
		out = append(out, welldesign.Layer{TopM: top, BaseM: top + strata.CellM, Class: class, Grade: like.Grade, Clayey: like.Clayey})
	}
	return out
}
