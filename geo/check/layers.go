package check

import (
	"math"
	"slices"

	"waterstrike/geo"
)

const (
	footM   = 0.3048
	touchM  = 0.05 // two layers that differ by less than half a decimetre touch
	noticeM = 0.25 // a gap or missing bottom thinner than a spade's width is rounding
	// The share of a log that is described twice when two logs stand in it: with other
	// intervals, or with the very same ones. Common practice, no source.
	mostlyTwice = 0.35
	allTwice    = 0.95

	footRatio = 0.05 // how far from 3.28 a ratio of depths may lie and still be feet to metres
)

// layers judges the log: its intervals against each other and against the depth.
func (j *judge) layers() {
	if len(j.Layers) == 0 {
		return
	}
	layers := distinct(j.Layers)
	if n := len(j.Layers) - len(layers); n > 0 {
		j.say(LayerTwice, geo.With("n", geo.Count(n)))
	}
	if doubled(layers, mostlyTwice) || doubled(j.Layers, allTwice) || logs(layers) > 1 {
		j.say(TwoLogs)
	} else {
		j.overlaps(layers)
	}
	j.gaps(layers)
	j.upsideDown()
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
	case logged > depth+slackM(depth):
		j.say(LayersUnderBottom, args...)
	case logged < depth-max(noticeM, depth/100):
		j.say(LayersEndEarly, args...)
	}
}

func isFoot(ratio float64) bool { return math.Abs(ratio-1/footM) < footRatio }

// overlaps reports the first overlap and how many there are.
func (j *judge) overlaps(layers []geo.Layer) {
	n, from, to, reach := 0, 0.0, 0.0, 0.0
	for _, l := range layers {
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
func (j *judge) gaps(layers []geo.Layer) {
	n, from, to, reach := 0, 0.0, 0.0, 0.0
	for _, l := range layers {
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

// distinct leaves out layers whose interval is that of the one above: crews write "sand
// and clay in bands" as two rows.
func distinct(layers []geo.Layer) []geo.Layer {
	return slices.CompactFunc(slices.Clone(layers), func(a, b geo.Layer) bool {
		return math.Abs(a.TopM-b.TopM) <= touchM && math.Abs(a.BaseM-b.BaseM) <= touchM
	})
}

// doubled reports a log of at least two layers each whose described length exceeds its
// depth by a share.
func doubled(layers []geo.Layer, share float64) bool {
	const fewest = 4
	length, reach := 0.0, 0.0
	for _, l := range layers {
		length += l.BaseM - l.TopM
		reach = max(reach, l.BaseM)
	}
	return len(layers) >= fewest && length-reach >= share*reach
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
