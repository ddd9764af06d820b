package welldesign

import (
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

func (v *review) has(kind geo.FillKind) bool {
	for _, f := range v.Fills {
		if f.Kind == kind {
			return true
		}
	}
	return false
}

// seal judges the cement and clay over the pack, and fills against each other.
func (v *review) seal() {
	if len(v.Fills) == 0 {
		if len(v.Pipes) > 0 {
			v.say(geo.Note, "asbuilt.no-fills")
		}
		return
	}
	v.fillsTogether()
	v.fillsUnderBottom()
	least := v.rules.Seal.Least.Value
	cement, clay := v.fromGround(geo.Grout), v.fromGround(geo.Grout, geo.ClaySeal)
	switch {
	case cement >= least-measuredM:
	case clay >= least-measuredM:
		v.say(geo.Note, "asbuilt.sealed-with-clay", metres("length", clay))
	case clay > 0:
		v.say(geo.Doubt, "asbuilt.seal-short", metres("length", clay), metres("to", least))
	case v.has(geo.Grout) || v.has(geo.ClaySeal):
		v.say(geo.Doubt, "asbuilt.seal-not-from-ground", metres("to", least))
	default:
		v.say(geo.Doubt, "asbuilt.no-seal", metres("to", least))
	}
}

// fromGround is the length that fills of some kinds reach down from the ground without a
// gap.
func (v *review) fromGround(kinds ...geo.FillKind) float64 {
	base := 0.0
	for _, f := range v.Fills { // from the top
		if f.TopM > base+shortM {
			break
		}
		for _, kind := range kinds {
			if f.Kind == kind {
				base = max(base, f.BaseM)
			}
		}
	}
	return base
}

// fillsTogether reports fills that overlap and space that nobody wrote of.
func (v *review) fillsTogether() {
	for i := 1; i < len(v.Fills); i++ {
		a, b := v.Fills[i-1], v.Fills[i]
		switch {
		case a.Kind != b.Kind && overlapM(a.TopM, a.BaseM, b.TopM, b.BaseM) > measuredM:
			v.say(geo.Doubt, "asbuilt.fills-overlap", metres("from", b.TopM), metres("to", min(a.BaseM, b.BaseM)),
				geo.With("item", fillName(a.Kind)), geo.With("second", fillName(b.Kind)))
		case b.TopM-a.BaseM > shortM:
			v.say(geo.Note, "asbuilt.fill-gap", metres("from", a.BaseM), metres("to", b.TopM))
		}
	}
}

// fillsUnderBottom reports a fill that reaches below the hole.
func (v *review) fillsUnderBottom() {
	depth, known := v.DepthM.Get()
	for _, f := range v.Fills {
		if known && f.BaseM > depth+measuredM {
			v.say(geo.Doubt, "asbuilt.fill-under-bottom", geo.With("item", fillName(f.Kind)), metres("to", f.BaseM), metres("depth", depth))
		}
	}
}

// sealedOff reports the stretch of a screen that cement or clay is written beside.
func (v *review) sealedOff(s geo.Pipe) {
	for _, f := range v.Fills {
		if from, to := max(s.TopM, f.TopM), min(s.BaseM, f.BaseM); f.Kind != geo.Pack && f.Kind != geo.Backfill && to-from > measuredM {
			v.say(geo.Doubt, "asbuilt.screen-sealed", geo.With("item", fillName(f.Kind)), metres("from", from), metres("to", to))
		}
	}
}

// pack judges where the pack stands against screen and layers.
func (v *review) pack() {
	screens := v.screens()
	if len(screens) == 0 || len(v.Fills) == 0 {
		return
	}
	for _, s := range screens {
		v.sealedOff(s)
	}
	top, base, known := v.packSpan()
	if !known {
		v.say(geo.Note, "asbuilt.no-pack")
		return
	}
	over := screens[0].TopM - top
	least := v.rules.Pack.Top.Value().LeastM
	switch {
	case over < -measuredM:
		v.say(geo.Doubt, "asbuilt.pack-below-screen", metres("from", screens[0].TopM), metres("to", top))
	case over < least-measuredM:
		v.say(geo.Note, "asbuilt.pack-short", metres("length", max(0, over)), metres("to", least))
	}
	for _, f := range v.Fills {
		if f.Kind == geo.Grout && top-f.BaseM < v.rules.Seal.Clay.Value-measuredM && top >= f.BaseM-measuredM {
			v.say(geo.Note, "asbuilt.no-clay", metres("depth", f.BaseM))
		}
	}
	v.joins(top, base)
}

func (v *review) packSpan() (top, base float64, known bool) {
	for _, f := range v.Fills {
		if f.Kind != geo.Pack {
			continue
		}
		if !known || f.TopM < top {
			top = f.TopM
		}
		base, known = max(base, f.BaseM), true
	}
	return top, base, known
}

// joins reports a pack that lets water pass between two bodies: tight ground of the rules'
// thickness beside it, with ground that gives water above and below.
func (v *review) joins(topM, baseM float64) {
	const thinnest = 0.5 // of a body worth telling; common practice
	upper, tight := 0.0, 0.0
	var from float64
	for _, s := range v.opposite(topM, baseM) {
		thick := s.baseM - s.topM
		switch {
		case Gives(s.class) && upper >= thinnest && tight >= v.rules.Seal.Separating.Value-slackM && thick >= thinnest:
			v.say(geo.Doubt, "asbuilt.pack-joins", metres("from", from), metres("to", s.topM))
			return
		case Gives(s.class):
			upper, tight, from = upper+thick, 0, s.baseM
		case s.class != soil.Unknown:
			tight += thick
		}
	}
}
