package welldesign

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
)

// AsBuilt is what a review says of a finished bore.
type AsBuilt struct {
	Issues   []geo.Issue `json:"issues"`   // what cannot be, what needs a person, what is worth knowing; each from pipes to drinking water
	Reviewed bool        `json:"reviewed"` // pipes were written down; without them there is little to say
}

// Review holds a finished bore to the rules that designs are made by: where its screen
// stands, what seals it, what it gave in its test and what its water was tested for. The
// levels of an advice may be given; without them the deepest rest level of the record
// stands in for the design low.
//
//   - Units: metres below ground.
//   - Domain: any record, contradictory ones too: what cannot be is said and left out of
//     what follows.
//   - Source: the rules' own.
//   - Checked by: TestReviewSaysWhere, TestReviewOfDesigns, TestReviewOfContradictions,
//     FuzzReview.
func Review(b geo.Bore, water geo.Opt[Water], r *Rules) AsBuilt {
	v := &review{Bore: b, rules: r, water: water}
	v.Pipes = v.possiblePipes()
	v.Fills = v.possibleFills()
	v.pipes()
	for _, s := range v.screens() {
		v.ground(s)
		v.aboveWater(s)
	}
	v.seal()
	v.pack()
	v.tests()
	v.drinking()
	slices.SortStableFunc(v.issues, func(a, b geo.Issue) int { return rank(a.Severity) - rank(b.Severity) })
	return AsBuilt{v.issues, len(v.screens()) > 0}
}

// review gathers what is wrong with one bore.
type review struct {
	geo.Bore
	rules  *Rules
	water  geo.Opt[Water]
	issues []geo.Issue
}

func (v *review) say(severity geo.Severity, code geo.Code, args ...geo.Arg) {
	v.issues = append(v.issues, geo.Issue{Severity: severity, Message: geo.Say(code, args...), Record: string(v.ID)})
}

// possible reports an interval that can be.
func possible(topM, baseM float64) bool {
	return topM >= 0 && topM < baseM && baseM < math.MaxFloat32
}

// possiblePipes are the pipes that can be, from the top.
func (v *review) possiblePipes() []geo.Pipe {
	var out []geo.Pipe
	for _, p := range v.Pipes {
		if !possible(p.TopM, p.BaseM) {
			v.say(geo.Rejected, "asbuilt.pipe-impossible", metres("from", p.TopM), metres("to", p.BaseM), geo.With("item", pipeName(p.Kind)))
			continue
		}
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b geo.Pipe) int { return cmp.Compare(a.TopM, b.TopM) })
	return out
}

func (v *review) possibleFills() []geo.Fill {
	var out []geo.Fill
	for _, f := range v.Fills {
		if !possible(f.TopM, f.BaseM) {
			v.say(geo.Rejected, "asbuilt.fill-impossible", metres("from", f.TopM), metres("to", f.BaseM), geo.With("item", fillName(f.Kind)))
			continue
		}
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b geo.Fill) int { return cmp.Compare(a.TopM, b.TopM) })
	return out
}

func pipeName(k geo.PipeKind) geo.Ref { return geo.Ref("part." + geo.Code(k)) }
func fillName(k geo.FillKind) geo.Ref { return geo.Ref("part." + geo.Code(k)) }

// screens are the screened intervals.
func (v *review) screens() []geo.Pipe {
	return slices.DeleteFunc(slices.Clone(v.Pipes), func(p geo.Pipe) bool { return p.Kind != geo.Screen })
}

// pipes judges the string of pipe by itself and against the hole.
func (v *review) pipes() {
	if len(v.Pipes) == 0 {
		v.say(geo.Note, "asbuilt.no-pipes")
		return
	}
	screens := v.screens()
	if len(screens) == 0 {
		v.say(geo.Doubt, "asbuilt.no-screen")
		return
	}
	lowest := v.Pipes[0]
	for _, p := range v.Pipes {
		if p.BaseM > lowest.BaseM {
			lowest = p
		}
	}
	if depth, known := v.DepthM.Get(); known && lowest.BaseM > depth+measuredM {
		v.say(geo.Doubt, "asbuilt.pipe-under-bottom", metres("to", lowest.BaseM), metres("depth", depth))
	}
	for _, s := range screens {
		v.behindCasing(s)
	}
	v.widerBelow()
	if lowest.Kind == geo.Screen {
		v.say(geo.Note, "asbuilt.no-plug", metres("depth", lowest.BaseM))
	}
}

// behindCasing reports the longest stretch of a screen that blank pipe shuts off.
func (v *review) behindCasing(s geo.Pipe) {
	var top, base float64
	for _, p := range v.Pipes {
		if from, to := max(s.TopM, p.TopM), min(s.BaseM, p.BaseM); p.Kind != geo.Screen && to-from > base-top {
			top, base = from, to
		}
	}
	if base-top > measuredM+slackM {
		v.say(geo.Doubt, "asbuilt.screen-behind-casing", metres("from", top), metres("to", base))
	}
}

// widerBelow reports a pipe that cannot have passed through the one above it; narrower ones
// below are a telescoped string.
func (v *review) widerBelow() {
	for i := 1; i < len(v.Pipes); i++ {
		above, aboveKnown := v.Pipes[i-1].DiameterMM.Get()
		below, belowKnown := v.Pipes[i].DiameterMM.Get()
		if aboveKnown && belowKnown && below > above+measuredMM {
			v.say(geo.Doubt, "asbuilt.wider-below", geo.With("item", pipeName(v.Pipes[i].Kind)),
				geo.With("total", geo.Count(int(below+0.5))), geo.With("n", geo.Count(int(above+0.5))))
			return
		}
	}
}

// measuredMM is what two measurements of one diameter differ by, sockets included; common
// practice, no source.
const measuredMM = 15

// measuredM is what two measurements of one depth differ by; common practice, no source.
const measuredM = 0.1

// overlapM is the length that two intervals share.
func overlapM(top, base, otherTop, otherBase float64) float64 {
	return max(0, min(base, otherBase)-max(top, otherTop))
}
