package welldesign

import "waterstrike/geo"

// Closing is how a failed hole is closed the day it is given up.
type Closing struct {
	Fills   []geo.Fill    `json:"fills"` // from the top
	ClayL   float64       `json:"clayL"`
	CementB float64       `json:"cementBags"`
	SandL   float64       `json:"sandL"` // clean sand or cuttings
	Steps   []geo.Message `json:"steps"`
}

// Close fills a hole from the bottom up: clay opposite tight ground, so that no water runs
// from one layer to another, clean sand or cuttings opposite ground that gives water, and
// cement in the top.
//
//   - Units: metres, mm; litres and bags, losses included.
//   - Domain: depths above 0, read to the tenth of a metre; a hole within the described layers or deeper; what lies below them is filled
//     with clay.
//   - Errors: as [Design] for the site.
//   - Source: top 3 m of clay or cement (RWSN Code of Practice 2010 and SADC guidelines,
//     from memory); layer by layer common practice, no source.
//   - Checked by: TestCloseFillsTheHole.
func Close(s Site, depthM, holeMM float64, r *Rules) (Closing, error) {
	if err := s.check(); err != nil {
		return Closing{}, err
	}
	depthM = tenth(depthM)
	top := min(r.After.CloseTop.Value, depthM)
	out := Closing{Fills: []geo.Fill{{Kind: geo.Grout, TopM: 0, BaseM: top}}}
	last := top
	for _, l := range s.Layers {
		base := tenth(min(l.BaseM, depthM))
		if base <= last+slackM {
			continue
		}
		kind := geo.ClaySeal
		if Gives(l.Class) {
			kind = geo.Backfill
		}
		out.fill(kind, last, base)
		last = base
	}
	if last < depthM-slackM {
		out.fill(geo.ClaySeal, last, depthM)
	}
	for _, f := range out.Fills {
		litres := SpaceL(holeMM, 0, f.BaseM-f.TopM) * r.Pack.Loss.Value
		switch f.Kind {
		case geo.Grout:
			out.CementB += litres / ((r.Grout.Yield.Lo + r.Grout.Yield.Hi) / 2)
		case geo.ClaySeal:
			out.ClayL += litres
		default:
			out.SandL += litres
		}
	}
	out.Steps = []geo.Message{
		geo.Say("closing.same-day"), geo.Say("closing.pull"), geo.Say("closing.never-rubbish"),
		geo.Say("closing.by-layer"), geo.Say("closing.top", metres("length", top)),
		geo.Say("closing.settle"), geo.Say("closing.record"),
	}
	return out, nil
}

// fill adds an interval, or makes the last one longer.
func (c *Closing) fill(kind geo.FillKind, topM, baseM float64) {
	if n := len(c.Fills); c.Fills[n-1].Kind == kind {
		c.Fills[n-1].BaseM = baseM
		return
	}
	c.Fills = append(c.Fills, geo.Fill{Kind: kind, TopM: topM, BaseM: baseM})
}
