package advisor

import (
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
)

// besideM is how near to the point a bore that gives water makes another one there pointless.
// A receiver's error and the walk around a pump are in it. Common practice, no source.
const besideM = 50

// beside tells of the nearest bore that gives water at the very point.
func (a *Advisor) beside(near gathered) (out []geo.Message) {
	for _, n := range near.nearest {
		if n.Outcome == geo.Producing && n.DistanceM <= besideM {
			return []geo.Message{geo.Say("evidence.bore-here", geo.With("bore", geo.Text(n.Label)), geo.With("distance", geo.DistanceM(n.DistanceM)))}
		}
	}
	return nil
}

// flowsReachM is how far off water that flows out by itself is a warning. Common practice, no
// source.
const flowsReachM = 5000

// flows tells a well of bores near by whose water flows out by itself: its own may too,
// whatever the middle of what is believed says.
func (e *Evidence) flows(w *welldesign.Well) {
	n, nearest := 0, 0.0
	for _, b := range e.Bores {
		if !b.Flows || b.DistanceM > flowsReachM {
			continue
		}
		if n == 0 || b.DistanceM < nearest {
			nearest = b.DistanceM
		}
		n++
	}
	if n == 0 {
		return
	}
	w.MayFlow = true
	note := geo.Say("well.note.neighbours-flow", geo.With("n", geo.Count(n)), geo.With("distance", geo.DistanceM(nearest)))
	w.Notes = append([]geo.Message{note}, w.Notes...)
}
