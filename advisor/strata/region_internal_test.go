package strata

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/geo/soil"
)

// holes drills n columns of a known chain: clay turns to sand, sand to gravel or back to
// clay, and rock comes under either from 8 m down and stays. It returns the logs that a
// crew writes, and how often sand, gravel and rock really lie in each cell.
func holes(n int, stop func(column []soil.Class, rng *rand.Rand) (cells int, refused bool)) (logs []Log, truth []row) {
	rng := rand.New(rand.NewPCG(9, 10))
	truth = make([]row, Cells)
	for range n {
		column := make([]soil.Class, Cells)
		column[0] = soil.Clay
		for z := 1; z < Cells; z++ {
			column[z] = column[z-1]
			switch u := rng.Float64(); {
			case column[z] == soil.Rock:
			case z > 16 && u < 0.05:
				column[z] = soil.Rock
			case column[z] == soil.Clay && u < 0.15:
				column[z] = soil.Sand
			case column[z] == soil.Sand && u < 0.12:
				column[z] = soil.Gravel
			case column[z] != soil.Clay && u < 0.2:
				column[z] = soil.Clay
			}
		}
		for z, class := range column {
			truth[z][class-1] += 1 / float64(n)
		}
		cells, refused := stop(column, rng)
		logs = append(logs, Log{Cells: column[:cells], Refused: refused, Method: "auger"})
	}
	return logs, truth
}

func profileOf(logs []Log) []row {
	layers := make([][]interval, len(logs))
	for i, log := range logs {
		layers[i] = log.intervals()
	}
	return regionOf(logs, layers).odds()
}

// frequency is how often the logs that reach a cell have a class there.
func frequency(logs []Log, cell int, class soil.Class) float64 {
	n, found := 0.0, 0.0
	for _, log := range logs {
		if cell < len(log.Cells) {
			n++
			if log.Cells[cell] == class {
				found++
			}
		}
	}
	return found / n
}

// Crews who stop three metres into the first sand leave few logs below it, and those that
// are left are the ones without sand: the profile must not be theirs.
func TestProfileBelowTheSurvivors(t *testing.T) {
	stop := func(column []soil.Class, _ *rand.Rand) (int, bool) {
		in := 0
		for z, class := range column {
			if class == soil.Sand {
				in++
			}
			if in == 6 {
				return z + 1, false
			}
		}
		return Cells, false
	}
	logs, truth := holes(4000, stop)
	profile := profileOf(logs)
	for _, z := range []int{16, 20, 24} {
		want, raw := truth[z][soil.Sand-1], frequency(logs, z, soil.Sand)
		got := profile[z][soil.Sand-1]
		if math.Abs(got-want) > 0.05 { // a few hundred logs reach the cell
			t.Errorf("sand in cell %d: profile %.3f, truth %.3f", z, got, want)
		}
		if math.Abs(raw-want) < 2*math.Abs(got-want) {
			t.Errorf("sand in cell %d: the survivors' %.3f is as good as the profile's %.3f, truth %.3f", z, raw, got, want)
		}
	}
}

// Rock that no log names, because every bit was refused on it, still comes into the
// profile; and crews who are never refused have no rock.
func TestRefusalIsLearned(t *testing.T) {
	stop := func(column []soil.Class, _ *rand.Rand) (int, bool) {
		for z, class := range column {
			if class == soil.Rock {
				return z, true
			}
		}
		return Cells, false
	}
	logs, truth := holes(2000, stop)
	const cell = 40
	refused, want := hard(profileOf(logs)[cell]), truth[cell][soil.Rock-1]
	for i := range logs {
		logs[i].Refused = false
	}
	free := hard(profileOf(logs)[cell])
	if refused < 3*free || refused < want/4 || refused > want {
		t.Errorf("hard ground at 20 m: %.3f, %.3f where no bit was refused; truth %.3f", refused, free, want)
	}
}

func hard(odds row) float64 {
	return odds[soil.Rock-1] + odds[soil.FracturedRock-1] + odds[soil.Hardpan-1] + odds[soil.WeatheredRock-1]
}

// A method that is often refused in gravel goes on in gravel below its end; another one
// that passes it does not.
func TestRefusalByMethod(t *testing.T) {
	var logs []Log
	var layers [][]interval
	add := func(method string, refused bool, parts ...soil.Class) {
		log := Log{Refused: refused, Method: "jetting"}
		if method != "" {
			log.Method = "percussion"
		}
		for _, class := range parts {
			log.Cells = append(log.Cells, class, class, class, class)
		}
		logs, layers = append(logs, log), append(layers, log.intervals())
	}
	for range 40 {
		add("", true, soil.Clay, soil.Sand, soil.Gravel)
		add("percussion", false, soil.Clay, soil.Sand, soil.Gravel, soil.Gravel, soil.Sand)
	}
	r := regionOf(logs, layers)
	jetting, percussion := r.of("jetting"), r.of("percussion")
	if jetting[soil.Gravel-1] < 5*percussion[soil.Gravel-1] {
		t.Errorf("gravel refuses jetting in %.3f of cells, percussion in %.3f", jetting[soil.Gravel-1], percussion[soil.Gravel-1])
	}
	if r.of("unheard-of") != &priorRefusal {
		t.Error("a method without logs is not taken by the usual refusals")
	}
}

// Below a refusal the odds are Bayes' rule by hand: what lies there by the chain, or a layer
// that begins unlogged, times how readily each class refuses the method.
func TestStoppedIsBayes(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	step := someChain(2, rng).step[1]
	r := refusals{"auger": {soil.Clay - 1: 0.01, soil.Gravel - 1: 0.4, soil.Rock - 1: 0.9}}
	got := r.stopped("auger", step)
	for j := range step {
		total := 0.0
		for k := range step[j] {
			total += r["auger"][k] * (0.995*step[j][k] + 0.005*hardLayers[k])
		}
		for k := range step[j] {
			want := r["auger"][k] * (0.995*step[j][k] + 0.005*hardLayers[k]) / total
			if math.Abs(got[j][k]-want) > 1e-12 { // rounding over nine terms
				t.Errorf("under class %d, class %d: %v, Bayes has %v", j+1, k+1, got[j][k], want)
			}
		}
	}
	if got[0][soil.Sand-1] != 0 {
		t.Error("a class that refuses nothing refused the bit")
	}
}
