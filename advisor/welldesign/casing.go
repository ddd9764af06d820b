package welldesign

import "waterstrike/geo/soil"

// Casing is the pipe and the hole that it stands in.
type Casing struct {
	OutsideMM float64 `json:"outsideMM"`
	InsideMM  float64 `json:"insideMM"`
	HoleMM    float64 `json:"holeMM"`
	Natural   bool    `json:"natural,omitempty"` // the ground itself closes around the screen
}

// spaceMM is the space around the pipe.
func (c Casing) spaceMM() float64 { return (c.HoleMM - c.OutsideMM) / 2 }

// casing is the pipe of an outside diameter in a hole.
//
// Source: wall from the standard dimension ratio, at least 5 mm from 110 mm on (RWSN and
// UNICEF specifications, from memory with doubt).
func (p PipeRules) casing(outsideMM, holeMM float64) Casing {
	wall := outsideMM / p.SDR.Value
	if outsideMM >= p.ThickFrom.Value {
		wall = max(wall, p.Thick.Value)
	}
	return Casing{OutsideMM: outsideMM, InsideMM: outsideMM - 2*wall, HoleMM: holeMM}
}

// pumpsIn lists the classes of pump that go into a pipe and lift the water.
func (d *drilled) pumpsIn(c Casing, liftM float64) []PumpChoice {
	return d.pumpsFor(c.InsideMM, liftM, d.site.AltitudeM)
}

// lining chooses hole and pipe for a lift: in the method's usual hole the widest pipe that
// leaves room for a pack, or in a wider one that the method makes the narrowest pipe that
// takes a pump for more people; where a pack has no room for any pump, the ground closing
// around the pipe by itself. No pumps: none of it takes one.
func (d *drilled) lining(liftM float64, behind soil.Class) (Casing, []PumpChoice) {
	c, pumps := d.widest(liftM)
	if wider, more := d.widened(liftM, d.Rules.Pack.Narrowest.Value); serves(more) > serves(pumps) {
		c, pumps = wider, more
	}
	if len(pumps) > 0 || !d.Method.Fluid || behind != soil.Sand && behind != soil.Gravel {
		return c, pumps
	}
	c, pumps = d.widened(liftM, d.Rules.Pack.Natural.Value)
	c.Natural = true
	return c, pumps
}

// serves is how many people the best of some pumps serves.
func serves(pumps []PumpChoice) int {
	if len(pumps) == 0 {
		return 0
	}
	return pumps[0].People
}

// widest is the widest pipe that leaves room for a pack in the usual hole.
func (d *drilled) widest(liftM float64) (c Casing, pumps []PumpChoice) {
	for _, outside := range d.Rules.Pipe.Outside {
		if outside+2*d.Rules.Pack.Narrowest.Value <= d.Method.HoleMM+slackM {
			c = d.Rules.Pipe.casing(outside, d.Method.HoleMM)
		}
	}
	return c, d.pumpsIn(c, liftM)
}

// widened is the narrowest pipe that takes a pump for most people, with some space around
// it, in a hole that the method makes.
func (d *drilled) widened(liftM, spaceMM float64) (best Casing, pumps []PumpChoice) {
	for _, outside := range d.Rules.Pipe.Outside {
		c := d.Rules.Pipe.casing(outside, max(d.Method.HoleMM, outside+2*spaceMM))
		if c.HoleMM > d.Method.HoleRangeMM[1]+slackM {
			break
		}
		if more := d.pumpsIn(c, liftM); serves(more) > serves(pumps) {
			best, pumps = c, more
		}
	}
	return best, pumps
}
