package level

import "math"

// noises are the spreads of readings about the course of the year that are tried, metres,
// and noiseLog what is known of it beforehand: its logarithm about that of noiseM.
// Common practice, no source.
var noises = [...]float64{0.15, 0.3, 0.6, 0.9, 1.3}

const (
	noiseM   = 0.4
	noiseLog = 1.0
)

// learnNoise takes the likeliest scatter of readings about the course of the year.
func (f *fitting) learnNoise() error {
	best, err := f.likeliest(len(noises), func(i int) (prior float64) {
		f.season.NoiseSDM = noises[i]
		off := math.Log(noises[i]/noiseM) / noiseLog
		return -off * off / 2
	})
	f.season.NoiseSDM = noises[best]
	f.carry()
	return err
}

// learnVague takes the likeliest error of readings of unknown origin, where there are
// enough of them to tell.
func (f *fitting) learnVague() error {
	tried := f.vagueVars()
	if len(tried) == 1 {
		return nil
	}
	best, err := f.likeliest(len(tried), func(i int) (prior float64) {
		f.scale.vagueVar = tried[i]
		return 0
	})
	f.scale.vagueVar = tried[best]
	f.carry()
	return err
}

// vagueVars are those that are tried: one where there are too few such readings to tell.
func (f *fitting) vagueVars() []float64 {
	vague := 0
	for _, o := range f.stated {
		if o.Vague {
			vague++
		}
	}
	if vague < leastVague {
		return vagueVars[:1]
	}
	return vagueVars[:]
}

const leastVague = 20

// likeliest sets one choice after another and returns the one under which the readings are
// likeliest, with what is known of it beforehand.
func (f *fitting) likeliest(choices int, set func(int) (prior float64)) (best int, err error) {
	bestLL := math.Inf(-1)
	for i := range choices {
		prior := set(i)
		f.carry()
		report, err := f.likeness(quickly(), nil)
		if err != nil {
			return 0, err
		}
		if ll := report.LogLik + prior; ll > bestLL {
			best, bestLL = i, ll
		}
	}
	return best, nil
}
