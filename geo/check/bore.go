package check

import (
	"cmp"
	"slices"

	"waterstrike/geo"
)

// readingM is how far two depths of one hole may differ by honest reading: a tape, a
// casing above ground, a depth written in half metres (common practice, no source).
const readingM = 0.5

// slackM is readingM, or one part in a hundred of a deep hole: a tape stretches.
func slackM(depthM float64) float64 { return max(readingM, depthM/100) }

// Bore returns what looks wrong in one record by itself, in a fixed order of rules; today
// is what no date may lie after. Lengths are metres below ground.
func Bore(b geo.Bore, today geo.Date) []geo.Issue {
	b.Layers = slices.SortedStableFunc(slices.Values(b.Layers), func(x, y geo.Layer) int {
		return cmp.Or(cmp.Compare(x.TopM, y.TopM), cmp.Compare(x.BaseM, y.BaseM))
	})
	j := &judge{Bore: b}
	j.place()
	j.dates(today)
	j.depths()
	j.levels()
	j.outcome()
	j.layers()
	j.lining()
	return j.found
}

// judge gathers what is found in one bore.
type judge struct {
	geo.Bore
	found []geo.Issue
}

// say adds a finding.
func (j *judge) say(code geo.Code, args ...geo.Arg) { j.sayRead("", code, args...) }

// sayRead adds a finding on a value whose text as read is kept.
func (j *judge) sayRead(read string, code geo.Code, args ...geo.Arg) {
	i := issueOf(code, args...)
	i.Record, i.File, i.Row, i.Read = string(j.ID), j.Source.File, j.Source.Row, read
	j.found = append(j.found, i)
}

func metres(name string, m float64) geo.Arg { return geo.With(name, geo.Metres(m)) }

// place judges the position by itself.
func (j *judge) place() {
	at, known := j.Position.Get()
	switch {
	case !known:
		j.say(NoPosition)
	case at.Pos.Lon == 0 || at.Pos.Lat == 0:
		j.sayRead(at.AsRead, PositionZero, geo.With("value", geo.Text(at.AsRead)))
	}
}

// depths judges the depth against the method, the strikes and the refusal.
func (j *judge) depths() {
	depth, known := j.DepthM.Get()
	if !known {
		return
	}
	if depth == 0 {
		j.say(DepthZero)
		return // nothing can be held against it
	}
	if byHand(j.Method) && depth > handDepthM {
		j.say(DepthBeyondMethod, metres("depth", depth))
	}
	for _, s := range j.Strikes {
		if s.DepthM > depth+slackM(depth) {
			j.sayRead(s.Words, StrikeUnderBottom, metres("level", s.DepthM), metres("depth", depth))
		}
	}
	j.refusal(depth)
}

func (j *judge) refusal(depth float64) {
	refusal, known := j.RefusalM.Get()
	switch {
	case !known:
	case refusal > depth+slackM(depth):
		j.say(RefusalUnderBottom, metres("from", refusal), metres("depth", depth))
	case refusal < depth-slackM(depth):
		j.say(RefusalAboveBottom, metres("from", refusal), metres("depth", depth))
	}
}
