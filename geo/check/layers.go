package check

import (
	"math"

	"waterstrike/geo"
)

const (
	footM     = 0.3048
	touchM    = 0.05 // two layers that differ by less than half a decimetre touch
	noticeM   = 0.25 // a gap or missing bottom thinner than a spade's width is rounding
	footRatio = 0.05 // how far from 3.28 a ratio of depths may lie and still be feet to metres
)

// layers judges the log: its intervals against each other and against the depth.
func (j *judge) layers() {
	if len(j.Layers) == 0 {
		return
	}
	if n := logs(j.Layers); n > 1 {
		j.say(TwoLogs, geo.With("n", geo.Count(n)))
	} else {
		j.overlaps()
	}
	j.gaps()
	if depth, known := j.DepthM.Get(); known && depth > 0 {
		j.bottom(depth, j.LoggedM())
	}
}

// bottom judges where the log ends against the depth drilled.
func (j *judge) bottom(depth, logged float64) {
	args := []geo.Arg{metres("from", logged), metres("depth", depth)}
	switch {
	case isFoot(logged/depth) || isFoot(depth/logged):
		j.say(LayersInFeet, args...)
	case logged > depth+readingM:
		j.say(LayersUnderBottom, args...)
	case logged < depth-noticeM:
		j.say(LayersEndEarly, args...)
	}
}

func isFoot(ratio float64) bool { return math.Abs(ratio-1/footM) < footRatio }

// overlaps reports the first overlap and how many there are.
func (j *judge) overlaps() {
	n, from, to, reach := 0, 0.0, 0.0, 0.0
	for _, l := range j.Layers {
		if l.TopM < reach-touchM {
			if n == 0 {
				from, to = l.TopM, min(reach, l.BaseM)
			}
			n++
		}
		reach = max(reach, l.BaseM)
	}
	if n > 0 {
		j.say(LayersOverlap, metres("from", from), metres("to", to), geo.With("n", geo.Count(n)))
	}
}

// gaps reports the first stretch that no layer describes and how many there are.
func (j *judge) gaps() {
	n, from, to, reach := 0, 0.0, 0.0, 0.0
	for _, l := range j.Layers {
		if l.TopM > reach+noticeM {
			if n == 0 {
				from, to = reach, l.TopM
			}
			n++
		}
		reach = max(reach, l.BaseM)
	}
	if n > 0 {
		j.say(LayersGap, metres("from", from), metres("to", to), geo.With("n", geo.Count(n)))
	}
}

// logs counts the whole logs that the layers make: runs of at least two layers that each
// start at the ground and go on where the layer above ends.
func logs(layers []geo.Layer) int {
	type run struct {
		base float64
		n    int
	}
	var runs []run
	for _, l := range layers {
		on := -1
		for i := range runs {
			if math.Abs(runs[i].base-l.TopM) <= touchM {
				on = i
				break
			}
		}
		switch {
		case on >= 0:
			runs[on] = run{l.BaseM, runs[on].n + 1}
		case l.TopM <= touchM:
			runs = append(runs, run{l.BaseM, 1})
		}
	}
	whole := 0
	for _, r := range runs {
		if r.n > 1 {
			whole++
		}
	}
	return whole
}
