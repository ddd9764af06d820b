package check

import (
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

const (
	sealM     = 3.0  // the least sanitary seal (RWSN Code of Practice 2010, from memory)
	tightM    = 1.0  // a tight layer that keeps two waters apart; common practice, no source
	thinM     = 0.5  // the thinnest layer worth a screen; common practice, no source
	mostShare = 0.75 // of a screen, before it counts as standing in tight ground
)

// lining judges pipes and fills against the hole, the layers and the water.
func (j *judge) lining() {
	j.liningDepth()
	j.diameters()
	for _, p := range j.Pipes {
		if p.Kind == geo.Screen {
			j.screen(p)
		}
	}
	j.seal()
	for _, f := range j.Fills {
		if f.Kind == geo.Pack {
			j.pack(f)
		}
	}
}

// liningDepth reports the deepest end of pipe or fill where the hole is not that deep.
func (j *judge) liningDepth() {
	depth, known := j.DepthM.Get()
	deepest := 0.0
	for _, p := range j.Pipes {
		deepest = max(deepest, p.BaseM)
	}
	for _, f := range j.Fills {
		deepest = max(deepest, f.BaseM)
	}
	if known && depth > 0 && deepest > depth+slackM(depth) {
		j.say(LiningUnderBottom, metres("from", deepest), metres("depth", depth))
	}
}

// diameters reports the first pipe that is too narrow for a pump or a bailer, or wider than
// any rig sets: inches or centimetres taken for millimetres.
func (j *judge) diameters() {
	const narrowMM, wideMM = 25, 650 // a rising main of an inch; common practice, no source
	for _, p := range j.Pipes {
		if d, known := p.DiameterMM.Get(); known && (d < narrowMM || d > wideMM) {
			j.say(DiameterOff, geo.With("value", geo.Text(strconv.FormatFloat(d, 'f', -1, 64)+" mm")))
			return
		}
	}
}

func (j *judge) screen(p geo.Pipe) {
	span := []geo.Arg{metres("from", p.TopM), metres("to", p.BaseM)}
	tight := 0.0
	for _, l := range j.Layers {
		if isTight(l.Class) {
			tight += shared(l.TopM, l.BaseM, p.TopM, p.BaseM)
		}
	}
	if tight >= mostShare*(p.BaseM-p.TopM) {
		j.say(ScreenInTight, span...)
	}
	level, known := restOf(j.Bore).Get()
	switch {
	case known && p.BaseM <= level:
		j.say(ScreenDry, append(span, metres("level", level))...)
	case known && p.TopM < level-readingM:
		j.say(ScreenAboveLevel, append(span, metres("level", level))...)
	}
}

// pack reports a filter pack that lets water pass from one layer to another.
func (j *judge) pack(f geo.Fill) {
	water, between := false, 0.0
	for _, l := range j.Layers {
		thick := shared(l.TopM, l.BaseM, f.TopM, f.BaseM)
		switch {
		case isTight(l.Class):
			between += thick
		case !givesWater(l.Class) || thick < thinM:
		case water && between >= tightM:
			j.say(PackJoinsLayers, metres("from", f.TopM), metres("to", f.BaseM))
			return
		default:
			water, between = true, 0
		}
	}
}

// seal judges what keeps surface water from the pack; a bore without any fill written
// down says nothing about it.
func (j *judge) seal() {
	packTop, packed, sealed := 0.0, false, 0.0
	for _, f := range j.Fills {
		if f.Kind == geo.Pack && (!packed || f.TopM < packTop) {
			packTop, packed = f.TopM, true
		}
	}
	if !packed {
		return
	}
	for _, f := range j.Fills {
		if f.Kind == geo.ClaySeal || f.Kind == geo.Grout {
			sealed += shared(f.TopM, f.BaseM, 0, packTop)
		}
	}
	switch {
	case sealed == 0:
		j.say(SealAbsent)
	case sealed < sealM-touchM:
		j.say(SealShort, metres("length", sealed))
	}
}

// shared is the length that two intervals have in common.
func shared(top, base, otherTop, otherBase float64) float64 {
	return max(0, min(base, otherBase)-max(top, otherTop))
}

func isTight(c soil.Class) bool { return c == soil.Clay || c == soil.Silt || c == soil.Rock }

func givesWater(c soil.Class) bool {
	return c == soil.Sand || c == soil.Gravel || c == soil.FracturedRock
}
