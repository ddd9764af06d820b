package check

import (
	"math"
	"strconv"
	"strings"

	"waterstrike/geo"
)

// levels judges each reading of the water.
func (j *judge) levels() {
	for _, l := range j.Levels {
		depth, known := l.DepthM.Get()
		if !known {
			continue
		}
		hole, drilled := j.DepthM.Get()
		switch {
		case drilled && hole > 0 && depth > hole+slackM(hole):
			j.sayRead(l.Words, LevelUnderBottom, metres("level", depth), metres("depth", hole))
		case writtenZero(l):
			j.sayRead(l.Words, LevelZero)
		case notReduced(l, depth):
			j.sayRead(l.Words, LevelNotReduced, metres("level", depth), metres("length", l.ReferenceM.Or(0)))
		case j.underStrike(l, depth):
			j.sayRead(l.Words, LevelUnderStrike, metres("level", depth), metres("from", j.deepestStrike()))
		}
	}
}

// underStrike reports a rest level that lies deeper than where the last water came in,
// though it was read before a season had passed: water rises in a hole, or stays.
func (j *judge) underStrike(l geo.Level, depth float64) bool {
	strike := j.deepestStrike()
	return l.State == geo.LevelRest && strike > 0 && depth > strike+slackM(strike) &&
		!surelyBefore(j.Completed.Or(geo.Date{}), l.On.Or(geo.Date{}), openDays)
}

// deepestStrike is 0 where no strike was written down.
func (j *judge) deepestStrike() (m float64) {
	for _, s := range j.Strikes {
		m = max(m, s.DepthM)
	}
	return m
}

// writtenZero reports a level that was written as a bare 0: more often "not measured" than
// water at the surface. A 0.0 is judged by its neighbours.
func writtenZero(l geo.Level) bool { return strings.TrimSpace(l.Words) == "0" }

// notReduced reports a reading from a point above ground whose height is known but was
// not taken off: the depth is the figure as written.
func notReduced(l geo.Level, depth float64) bool {
	const sameM = 0.005 // readings are written to a centimetre
	height, known := l.ReferenceM.Get()
	read, ok := leading(l.Words)
	return known && ok && math.Abs(height) > 2*sameM && math.Abs(read-depth) < sameM
}

// leading reads the number that a text starts with.
func leading(text string) (float64, bool) {
	text = strings.TrimSpace(strings.Replace(text, ",", ".", 1))
	end := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.-+", r) })
	if end >= 0 {
		text = text[:end]
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}

// tenth reports a level of which ten times is where the water came in, among bores whose
// water stands deeper: a slip of the decimal point. Either alone is common: water under
// pressure rises that far in one hole of thirty.
func (s *survey) tenth(h *hole, n around, level float64) {
	const alikeShare, shallower = 0.1, 2.7 // chosen on invented regions that the tests do not use
	over, known := h.overStrike.Get()
	strike := level - over
	if !known || level <= 0 || math.Abs(10*level-strike) > alikeShare*strike {
		return
	}
	if len(n.levels) >= fewestNear && median(n.levels) > shallower*level {
		h.say(LevelTenth, metres("level", level), metres("depth", strike), metres("from", median(n.levels)))
	}
}
