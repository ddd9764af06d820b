package check

import "waterstrike/geo"

// What a hand-drilled bore hardly exceeds. Depth: 50 m is the realistic maximum (Fussi et
// al. 2017); 10 m more before it is doubted. Yield: a tube of 50 to 110 mm fed by a hand
// or suction pump; common practice, no source.
const (
	handDepthM    = 60.0
	handYieldLPS  = 10.0
	otherYieldLPS = 100.0

	// What a bore said to produce gives at least, and one said to give too little at most.
	// A hand pump wants some 0.2 L/s; a slip of unit is by 3.6 or 60. Common practice, no
	// source.
	leastProducingLPS = 0.05
	mostLowLPS        = 0.5
)

// byHand reports that the method is known and no powered rig.
func byHand(m geo.Method) bool { return m != "" && m != geo.MethodUnknown && m != geo.MethodMachine }

// outcome judges what came of the bore against the water that was found.
func (j *judge) outcome() {
	yield, measured := j.YieldLPS.Get()
	most := otherYieldLPS
	if byHand(j.Method) {
		most = handYieldLPS
	}
	if measured && yield > most {
		j.say(YieldBeyondMethod, geo.With("yield", geo.LPS(yield)))
	}
	if j.Outcome == geo.Producing && yield > 0 && yield < leastProducingLPS || j.Outcome == geo.LowYield && yield > mostLowLPS {
		j.say(YieldAgainstOutcome, geo.With("yield", geo.LPS(yield)))
	}
	rest, dry := j.states()
	switch {
	case j.Outcome == geo.Dry && (measured && yield > 0 || rest):
		j.say(DryWithWater)
	case j.Outcome == geo.Producing && (measured && yield == 0 || dry && !rest):
		j.say(WorksButDry)
	}
}

// states reports whether any reading found water, and whether any found none.
func (j *judge) states() (wet, dry bool) {
	for _, l := range j.Levels {
		wet = wet || l.State != geo.LevelDryTo
		dry = dry || l.State == geo.LevelDryTo
	}
	return wet, dry
}
