package level_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/advisor/level"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
	"waterstrike/geo/terrain"
)

// hilly is a place of a land whose heights say something else at every place.
func hilly(rng *rand.Rand) (terrain.Setting, float64) {
	height := 40 * rng.Float64() * rng.Float64()
	s := terrain.Setting{
		GroundM: geo.Some(200 + height), AboveDrainageM: geo.Some(height),
		AboveRiverM: geo.Some(height * (1 + rng.Float64())),
		Around: geo.Some(terrain.Around{
			OverLowestM: [3]float64{height / 2, height, 2 * height},
			OverMeanM:   [2]float64{rng.NormFloat64(), height - 10}, ReliefM: 20 + 20*rng.Float64(),
		}),
	}
	return s, height
}

// rising is a region whose low lies deeper under higher ground: 2 m and half the height;
// every site but the first readings is asked about.
func rising(n int, seed uint64, low func(height float64) float64) (obs []level.Observation, heights []float64) {
	rng := rand.New(rand.NewPCG(seed, 3))
	for range n {
		setting, height := hilly(rng)
		obs = append(obs, level.Observation{
			At:     variogram.XY{X: rng.Float64() * 30000, Y: rng.Float64() * 30000},
			DepthM: low(height) * math.Exp(0.1*rng.NormFloat64()), On: in(time.May), Land: level.LandOf(setting),
		})
		heights = append(heights, height)
	}
	return obs, heights
}

func half(height float64) float64 { return 2 + height/2 }

// Where water follows the land, knowing the land takes away most of the error; where the
// land of the place asked about is not known the answer is as wide as without any.
func TestTrendIsLearned(t *testing.T) {
	obs, heights := rising(300, 1, half)
	seen, asked := obs[:200], obs[200:]
	m := fit(t, seen)
	blind := make([]level.Observation, len(seen))
	for i, o := range seen {
		blind[i], blind[i].Land = o, level.Land{}
	}
	without := fit(t, blind)
	var with, plainly, width, unknown, plainWidth float64
	for i, o := range asked {
		s, err := m.Predict(nearest(seen, o.At, 32), o.At, o.Land)
		if err != nil {
			t.Fatal(err)
		}
		nowhere, err := m.Predict(nearest(seen, o.At, 32), o.At, level.Land{})
		if err != nil {
			t.Fatal(err)
		}
		p := predict(t, without, blind, o.At)
		truth := half(heights[200+i])
		with += math.Abs(s.Low(0.5) - truth)
		plainly += math.Abs(p.Low(0.5) - truth)
		width += s.FieldVar + s.MicroVar
		unknown += nowhere.FieldVar + nowhere.MicroVar
		plainWidth += p.FieldVar + p.MicroVar
	}
	if with > 0.35*plainly {
		t.Errorf("mean error %.2f m with the land, %.2f m without", with/100, plainly/100)
	}
	if width > 0.5*unknown || unknown < 0.6*plainWidth {
		t.Errorf("variances %.3f where the land is known, %.3f where it is not, %.3f without any", width/100, unknown/100, plainWidth/100)
	}
}

// Where water does not follow the land, the land takes next to nothing away from the answer.
func TestTrendOfNothing(t *testing.T) {
	obs, _ := rising(300, 2, func(float64) float64 { return 7 })
	m, report, err := level.Fit(t.Context(), obs[:200], season())
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range report.Trend {
		if math.Abs(s.B) > 0.03 {
			t.Errorf("%s: slope %.3f ± %.3f of nothing", s.Term, s.B, s.SD)
		}
	}
	sum := 0.0
	for _, o := range obs[200:] {
		s, err := m.Predict(nearest(obs[:200], o.At, 32), o.At, o.Land)
		if err != nil {
			t.Fatal(err)
		}
		sum += math.Abs(s.Low(0.5) - 7)
	}
	if sum/100 > 0.35 {
		t.Errorf("mean error %.2f m of a level that is 7 m everywhere", sum/100)
	}
}

// With high ground known by dry holes alone, leaving them out puts the water there too
// shallow.
func TestDryHolesInTheTrend(t *testing.T) {
	all, heights := rising(260, 3, half)
	var wet, both []level.Observation
	for i, o := range all {
		switch {
		case heights[i] < 10:
			wet, both = append(wet, o), append(both, o)
		case i%2 == 0:
			o.State, o.DepthM = level.DryTo, 0.9*half(heights[i])
			both = append(both, o)
		}
	}
	median := func(obs []level.Observation) (sum float64) {
		m := fit(t, obs)
		n := 0.0
		for i, o := range all {
			if heights[i] < 20 || i%2 == 0 {
				continue
			}
			s, err := m.Predict(nearest(obs, o.At, 32), o.At, o.Land)
			if err != nil {
				t.Fatal(err)
			}
			sum += math.Log(s.Low(0.5) / half(heights[i]))
			n++
		}
		return sum / n
	}
	without, with := median(wet), median(both)
	if !(without < -0.2) || !(with > without+0.03) {
		t.Errorf("the high ground's water is off by %.2f of its logarithm without the dry holes, %.2f with them", without, with)
	}
}

func TestLandMissing(t *testing.T) {
	s, _ := hilly(rand.New(rand.NewPCG(1, 1)))
	whole := level.LandOf(s)
	s.GroundM = geo.Opt[float64]{}
	if whole == (level.Land{}) || level.LandOf(s) != (level.Land{}) {
		t.Errorf("a whole setting gives %+v, one without its ground %+v", whole, level.LandOf(s))
	}
}

// Where water leaves the land before it meets drainage, the lowest ground about stands for
// the stream.
func TestLandWithoutDrainage(t *testing.T) {
	s, _ := hilly(rand.New(rand.NewPCG(1, 1)))
	around, _ := s.Around.Get()
	s.AboveDrainageM, s.AboveRiverM = geo.Some(around.OverLowestM[0]), geo.Opt[float64]{}
	stream := level.LandOf(s)
	s.AboveDrainageM = geo.Opt[float64]{}
	neither := level.LandOf(s)
	if !neither.Known() || neither != stream {
		t.Errorf("without drainage %+v, with the lowest ground as drainage %+v", neither, stream)
	}
	if terms := neither.Terms(); terms[1] < terms[2] || terms[1] > terms[3] {
		t.Errorf("over rivers %.2f, over the lowest ground %.2f within 1 km and %.2f within 3 km", terms[1], terms[2], terms[3])
	}
}

// Water that lies deepest under the edge of a plateau, and less deep on it and below it, is
// followed over the edge.
func TestTrendBends(t *testing.T) {
	edge := func(height float64) float64 { return 3 + 5*math.Max(0, 1-math.Abs(height-12)/12) }
	obs, heights := rising(500, 9, edge)
	seen := obs[:300]
	m := fit(t, seen)
	off := 0.0
	for i, o := range obs[300:] {
		s, err := m.Predict(nearest(seen, o.At, 32), o.At, o.Land)
		if err != nil {
			t.Fatal(err)
		}
		off += math.Abs(math.Log(s.Low(0.5)/edge(heights[300+i]))) / 200
	}
	if off > 0.06 { // straight terms alone: 0.083, measured
		t.Errorf("off by %.3f of the logarithm in the mean", off)
	}
}
