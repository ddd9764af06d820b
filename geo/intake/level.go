package intake

import (
	"waterstrike/geo"
)

// levelOf reads a level of the water at rest: a depth, words for a flowing bore or a dry
// one. holeM is the depth of the hole where it is known.
func (c *cells) levelOf(level, date, reference string, holeM geo.Opt[float64]) (geo.Level, bool) {
	text := c.text(level)
	if text == "" {
		return geo.Level{}, false
	}
	name := c.table.fields[level].name
	out := geo.Level{State: geo.LevelRest, Words: text}
	switch {
	case isOneOf(text, flowingWords):
		c.report(geo.Note, Flowing, name, text)
		out.State = geo.LevelFlowing
	case isOneOf(text, dryWords):
		if !holeM.Known() {
			c.report(geo.Rejected, DryWithoutDepth, name, text)
			return geo.Level{}, false
		}
		out.State, out.DepthM = geo.LevelDryTo, holeM
	default:
		depth, ok := c.levelDepth(level, reference, &out)
		if !ok {
			return geo.Level{}, false
		}
		c.judgeLevel(&out, name, text, depth, holeM)
	}
	out.On = c.date(date)
	return out, true
}

// levelDepth reads the figure and takes off the height of the point it was read from.
func (c *cells) levelDepth(level, reference string, out *geo.Level) (float64, bool) {
	depth, ok := c.length(level).Get()
	if !ok {
		return 0, false
	}
	if height, known := c.length(reference).Get(); known {
		depth -= height
		out.ReferenceM = geo.Some(height)
	}
	if depth < -maxRiseM || depth > maxDepthM {
		c.report(geo.Rejected, DepthOutOfRange, c.table.fields[level].name, c.text(level))
		return 0, false
	}
	c.doubtAbove(c.table.fields[level], depth, c.text(level), DepthOutOfRange)
	return depth, true
}

func (c *cells) judgeLevel(out *geo.Level, name, text string, depth float64, holeM geo.Opt[float64]) {
	out.DepthM = geo.Some(depth)
	if depth < 0 {
		out.State = geo.LevelFlowing
		c.report(geo.Note, Flowing, name, text)
	}
	if hole, known := holeM.Get(); known && depth > hole {
		c.report(geo.Doubt, LevelBelowHole, name, text)
	}
}
