package welldesign

import (
	"waterstrike/advisor/method"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// whyNot tells what fails first where no window keeps all limits and yields: w is the best
// that was found, if any.
func (d *drilled) whyNot(w window, found bool) (geo.Code, []geo.Message, error) {
	unsafe, err := d.unsafe()
	if err != nil || len(unsafe) > 0 {
		return Unsafe, unsafe, err
	}
	if found {
		return NoWell, []geo.Message{geo.Say("well.why.too-little", metres("from", w.topM), metres("to", w.baseM),
			geo.With("chance", geo.Chance(w.chance)), geo.With("yield", geo.LPS(d.Rules.Yield.Wanted.Value)))}, nil
	}
	return NoWell, []geo.Message{d.noWindow()}, nil
}

// unsafe tells which limit alone stands between the column and a well that yields: water
// that could be drawn and could not be kept clean.
func (d *drilled) unsafe() (why []geo.Message, err error) {
	for _, without := range []struct {
		limits
		say func(window) geo.Message
	}{{limits{apart: true}, d.noRoom}, {limits{seal: true}, d.joins}, {limits{}, d.noRoom}} {
		w, ok, err := d.place(without.limits)
		if err != nil {
			return nil, err
		}
		if ok && w.chance >= likely {
			return []geo.Message{without.say(w)}, nil
		}
	}
	return nil, nil
}

func (d *drilled) noRoom(w window) geo.Message {
	return geo.Say("well.why.no-room-for-seal", metres("from", w.topM), metres("to", w.baseM), metres("length", d.Rules.above()))
}

func (d *drilled) joins(w window) geo.Message {
	base, _ := d.aboveM(w.cell)
	return geo.Say("well.why.pack-would-join", metres("from", base), metres("to", w.topM))
}

// noWindow tells why no screen stands anywhere.
func (d *drilled) noWindow() geo.Message {
	from := down(max(d.site.Water.DesignLowM, d.Rules.above()))
	for i := max(from, 0); i < min(down(d.reachM), len(d.body)); i++ {
		if d.body[i] >= 0 {
			return d.tooShort() // it gives water, but ends before there is room for a screen
		}
	}
	if d.reachM < max(d.site.Water.DesignLowM, d.Rules.above())+d.Rules.Screen.Least.Value+d.Rules.Screen.Sump.Value {
		return d.tooShort()
	}
	if d.reach.StoppedBy != soil.Unknown {
		return geo.Say("well.why.no-layer-and-stopped", metres("depth", d.reachM), d.stopper())
	}
	return geo.Say("well.why.no-layer", metres("depth", d.reachM))
}

// stopper names the ground that stopped the tool.
func (d *drilled) stopper() geo.Arg {
	return geo.With("class", geo.Ref("class."+geo.Code(d.reach.StoppedBy.String())))
}

// tooShort tells what ended the hole before there was room for a screen below water.
func (d *drilled) tooShort() geo.Message {
	depth, level := metres("depth", d.reachM), metres("level", d.site.Water.DesignLowM)
	switch {
	case d.reach.StoppedBy != soil.Unknown:
		return geo.Say("well.why.stopped", depth, level, d.stopper())
	case d.reach.Limit == method.ByWater:
		return geo.Say("well.why.reach-below-water", depth, level, metres("length", d.Method.BelowWaterM))
	}
	return geo.Say("well.why.too-deep", depth, level)
}

// noPump tells whether no pump lifts from so deep or none fits the hole.
func (d *drilled) noPump(liftM float64) geo.Message {
	for _, p := range d.Pumps {
		if p.Lifts(liftM, d.site.AltitudeM) {
			return geo.Say("well.why.hole-too-narrow", metres("level", liftM),
				geo.With("n", geo.Count(int(d.Method.HoleRangeMM[1]+0.5))))
		}
	}
	return geo.Say("well.why.no-pump", metres("level", liftM))
}
