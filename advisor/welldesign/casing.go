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
// leaves room for a pack; where no pump fits that, the narrowest pipe that one fits, in a
// hole as wide as the method makes; where a pack has no room even then, the ground closing
// around the pipe by itself. No pumps: none of it takes one.
func (d *drilled) lining(liftM float64, behind soil.Class) (Casing, []PumpChoice) {
	m, rules := d.Method, d.Rules
	narrowest := 2 * rules.Pack.Narrowest.Value
	for i := len(rules.Pipe.Outside) - 1; i >= 0; i-- {
		outside := rules.Pipe.Outside[i]
		if outside > m.HoleMM-narrowest+slackM {
			continue
		}
		c := rules.Pipe.casing(outside, m.HoleMM)
		if pumps := d.pumpsIn(c, liftM); len(pumps) > 0 {
			return c, pumps
		}
		break
	}
	for _, outside := range rules.Pipe.Outside {
		c := rules.Pipe.casing(outside, max(m.HoleMM, outside+narrowest))
		if pumps := d.pumpsIn(c, liftM); c.HoleMM <= m.HoleRangeMM[1]+slackM && len(pumps) > 0 {
			return c, pumps
		}
	}
	if !m.Fluid || behind != soil.Sand && behind != soil.Gravel {
		return Casing{}, nil
	}
	for _, outside := range rules.Pipe.Outside {
		c := rules.Pipe.casing(outside, max(m.HoleMM, outside+2*rules.Pack.Natural.Value))
		c.Natural = true
		if pumps := d.pumpsIn(c, liftM); c.HoleMM <= m.HoleRangeMM[1]+slackM && len(pumps) > 0 {
			return c, pumps
		}
	}
	return Casing{}, nil
}
