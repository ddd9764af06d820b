package demoland

import "math/rand/v2"

// traits are the proportions of one region: other seeds, other traits.
type traits struct {
	turns  int  // quarter turns of the land's frame against east
	mirror bool // whether the frame is mirrored first

	coastV       float64 // mean v of the shore, m
	stripM       float64 // width of the sand strip behind the shore
	stripDepthM  float64 // its greatest thickness
	valleyHalfM  float64 // half width of the main valley's floor at the shore
	branchHalfM  float64 // the same of a tributary at its mouth
	valleyFillM  float64 // greatest thickness of the main valley's fill
	branchFillM  float64
	branchEveryM float64 // spacing of tributaries along the main river
	hillSlope    float64 // slope of valley sides
	plateauM     float64 // height of the old land surface above the drainage around it
	crustShift   float64 // more crust the higher
	crustM       float64 // usual thickness of crust
	regolithM    float64 // mean depth to unweathered rock
	lensShare    float64 // share of the fill that lenses take up, before overlap
	levelScale   float64 // depth to water of the slopes against the usual
	levelSpread  float64 // standard deviation of log depth around the terrain's trend
	rangeScale   float64 // annual range against the usual
	yearSDM      float64 // standard deviation of year effects, m
	yearMemory   float64 // their lag-1 correlation
	onsetDay     float64 // day of the year when water begins to rise
	riseDays     float64 // days from there to the peak
	recessDays   float64 // time constant of the recession
	kShift       float64 // decades by which this region's rock is more open than usual
}

// drawTraits draws the proportions. The ranges keep every setting of trade facts in
// play: alluvium 8-30 m, regolith 10-30 m, annual ranges of 1-7 m (Butterworth et al.
// 1999 for basement; the rest from memory).
func drawTraits(r *rand.Rand) traits {
	return traits{
		turns: r.IntN(4), mirror: r.IntN(2) == 1,
		coastV:       between(r, -26000, -19000),
		stripM:       between(r, 2500, 5500),
		stripDepthM:  between(r, 11, 22),
		valleyHalfM:  between(r, 1500, 3600),
		branchHalfM:  between(r, 350, 900),
		valleyFillM:  between(r, 18, 31),
		branchFillM:  between(r, 7, 13),
		branchEveryM: between(r, 5500, 8500),
		hillSlope:    between(r, 0.016, 0.026),
		plateauM:     between(r, 26, 42),
		crustShift:   between(r, -0.7, 0.7),
		crustM:       between(r, 1.5, 3.5),
		regolithM:    between(r, 14, 23),
		lensShare:    between(r, 0.28, 0.62),
		levelScale:   between(r, 0.75, 1.2),
		levelSpread:  between(r, 0.16, 0.3),
		rangeScale:   between(r, 0.75, 1.3),
		yearSDM:      between(r, 0.35, 0.85),
		yearMemory:   between(r, 0.35, 0.7),
		onsetDay:     between(r, 95, 160),
		riseDays:     between(r, 80, 130),
		recessDays:   between(r, 80, 170),
		kShift:       between(r, 0.05, 0.35),
	}
}
