package advisor

import (
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo/coord"
)

// sketchReader finds and reads the bores around one place of a surface after another, as the
// models read them. What it returns is valid until the next place.
type sketchReader struct {
	advisor   *Advisor
	forLevels roaming[statement]
	forLayers roaming[strata.Near]
	tests     map[*evidence.Bore][]hydraulics.Tested

	near  [2][]evidence.Near
	said  []level.Observation
	drawn []strata.Near
}

// statement is what a bore states of the level, at no place, if anything.
type statement struct {
	level.Observation
	ok bool
}

func newSketchReader(a *Advisor) *sketchReader {
	r := &sketchReader{advisor: a, tests: map[*evidence.Bore][]hydraulics.Tested{}}
	r.forLevels = roaming[statement]{search: a.snapshot.NearestLevelled, n: nearLevels, read: r.level, memory: map[*evidence.Bore]statement{}}
	r.forLayers = roaming[strata.Near]{search: a.snapshot.NearestDescribed, n: nearLogs, read: r.log, memory: map[*evidence.Bore]strata.Near{}}
	return r
}

func (r *sketchReader) levels(at coord.LonLat, plane coord.Plane) ([]evidence.Near, []level.Observation) {
	near, said := r.near[0][:0], r.said[:0]
	for _, b := range r.forLevels.near(at) {
		if b.says.ok {
			near, said = append(near, b.Near), append(said, placed(b.says.Observation, b.Bore, plane))
		}
	}
	r.near[0], r.said = near, said
	return near, said
}

func (r *sketchReader) logs(at coord.LonLat) ([]evidence.Near, []strata.Near) {
	near, logs := r.near[1][:0], r.drawn[:0]
	for _, b := range r.forLayers.near(at) {
		if b.says.Described() {
			near, logs = append(near, b.Near), append(logs, *b.says)
			logs[len(logs)-1].DistanceM = b.DistanceM
		}
	}
	r.near[1], r.drawn = near, logs
	return near, logs
}

func (r *sketchReader) level(b *evidence.Bore) (s statement) {
	if s.Observation, s.ok = levelIn(r.advisor.snapshot, b); s.ok && r.advisor.fits.level != nil {
		s.Observation = r.advisor.fits.level.Read(s.Observation)
	}
	return s
}

func (r *sketchReader) log(b *evidence.Bore) strata.Near {
	log := logIn(r.advisor.snapshot, b)
	if r.advisor.fits.strata == nil {
		return strata.Near{Log: log}
	}
	return r.advisor.fits.strata.Read(log)
}

func (r *sketchReader) heard(b *evidence.Bore) []hydraulics.Tested {
	all, known := r.tests[b]
	if !known {
		all = heardFrom(b)
		r.tests[b] = all
	}
	return all
}
