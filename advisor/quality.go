package advisor

import (
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Quality is the second verdict: whether water from here is likely fit to drink. It is
// never folded into the chance, and never takes the place of a test of the new water.
type Quality struct {
	Verdict geo.Code       `json:"verdict"`
	Because []geo.Message  `json:"because"`
	Bores   int            `json:"bores"`           // sampled within reach
	Found   []QualityFound `json:"found,omitempty"` // by analyte, those that most exceed first
}

// QualityFound is what the sampled bores within reach say of one analyte.
type QualityFound struct {
	Analyte string        `json:"analyte"`
	Limit   geo.LimitKind `json:"limit"`
	Bores   int           `json:"bores"` // tested for it
	Over    int           `json:"over"`  // out of the limit
}

// The verdicts on the water.
const (
	Fit           geo.Code = "quality.fit"
	NotFit        geo.Code = "quality.not-fit"
	FitIsNotKnown geo.Code = "quality.not-known"
)

// How samples are read: those of the nearest bores within a walk of an hour say what may be
// dissolved in the ground here; three bores of one mind are the least that are believed.
// Common practice, no source.
const (
	sampledReachM = 5000
	sampledMost   = 24
	sampledLeast  = 3
)

// quality judges the water at a point by the samples around it.
//
//   - Domain: fit needs each of the five analytes tested in three bores within reach and
//     within its limit in all of them; not fit, any chemical out of its limit for health, or
//     salt out of what people accept, in half of those tested or more. All else is not known.
//   - Source: the analytes, design of the programme; limits as in geo/analytes.csv; that
//     faecal bacteria tell of a well and its surroundings more than of the ground, common
//     practice, no source.
//   - Checked by: TestQuality.
func (a *Advisor) quality(at coord.LonLat) Quality {
	q := Quality{Verdict: FitIsNotKnown}
	near := a.snapshot.NearestSampled(at, sampledMost)
	far := slices.IndexFunc(near, func(n evidence.Near) bool { return n.DistanceM > sampledReachM })
	if far >= 0 {
		near = near[:far]
	}
	q.Bores, q.Found = len(near), count(near)
	switch {
	case slices.ContainsFunc(q.Found, QualityFound.spoils):
		q.Verdict = NotFit
	case !slices.ContainsFunc(geo.NeededAnalytes(), func(code string) bool { return !q.clean(code) }):
		q.Verdict = Fit
	}
	q.Because = q.because()
	return q
}

// count adds up what bores say of each analyte.
func count(near []evidence.Near) (out []QualityFound) {
	for _, n := range near {
		for _, f := range n.Water {
			i := slices.IndexFunc(out, func(o QualityFound) bool { return o.Analyte == f.Analyte })
			if i < 0 {
				i, out = len(out), append(out, QualityFound{Analyte: f.Analyte, Limit: f.Limit})
			}
			out[i].Bores++
			if f.Over {
				out[i].Over++
			}
		}
	}
	slices.SortStableFunc(out, func(x, y QualityFound) int { return y.Over*x.Bores - x.Over*y.Bores })
	return out
}

// spoils reports that what the ground itself gives makes water unfit more often than not.
func (f QualityFound) spoils() bool {
	ofTheGround := f.Analyte == "ec" || f.Limit == geo.HealthLimit && f.Analyte != "e-coli" && f.Analyte != "thermotolerant-coliforms"
	return ofTheGround && 2*f.Over >= f.Bores
}

// clean reports that an analyte was tested often enough and never out of its limit.
func (q *Quality) clean(analyte string) bool {
	return slices.ContainsFunc(q.Found, func(f QualityFound) bool {
		return f.Analyte == analyte && f.Bores >= sampledLeast && f.Over == 0
	})
}

// overShown is how many analytes a page names.
const overShown = 3

// because tells what was out of its limit, or that nobody knows, and what is to be done.
func (q *Quality) because() (out []geo.Message) {
	if q.Bores == 0 {
		out = append(out, geo.Say("quality.no-samples", geo.With("distance", geo.DistanceM(sampledReachM))), geo.Say("quality.hazards"))
	}
	for _, f := range q.Found {
		if f.Over > 0 && len(out) < overShown {
			out = append(out, geo.Say("quality.over-"+geo.Code(f.Limit), geo.With("item", geo.Ref("analyte."+geo.Code(f.Analyte))),
				geo.With("n", geo.Count(f.Over)), geo.With("total", geo.Count(f.Bores)), geo.With("distance", geo.DistanceM(sampledReachM))))
		}
	}
	if len(out) == 0 && q.Verdict == FitIsNotKnown {
		out = append(out, geo.Say("quality.too-few", geo.With("n", geo.Count(q.Bores)), geo.With("distance", geo.DistanceM(sampledReachM))))
	}
	return append(out, geo.Say("quality.tests"), geo.Say("quality.until-tested"))
}
