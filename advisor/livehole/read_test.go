package livehole

import (
	"math"
	"testing"

	"waterstrike/geo"
)

// The forward pass gives what counting every column gives: the weights of levels and
// chains, and the odds of the last cell.
func TestReadingIsBruteForce(t *testing.T) {
	p := small()
	l := logTo(4, topsoil, clay, clay, sand)
	l.StrikeM, l.LevelM = geo.Some(1.7), geo.Some(0.9)
	l.Layers[3].MinutesPerM = geo.Some(35.0)
	h := l.cut()
	columns := p.columns()
	got := p.read(&l, &h, columns)
	weights := make([][]float64, len(got.level))
	bottoms := make([][]row, len(got.level))
	total := 0.0
	for i := range weights {
		seen := p.seen(&l, &h, i)
		weights[i], bottoms[i] = make([]float64, len(columns)), make([]row, len(columns))
		for c := range columns {
			one := outlook{odds: []row{columns[c].first}, steps: make([]matrix, h.cells)}
			for z := 1; z < h.cells; z++ {
				for k := range classes {
					above := row{}
					above[k] = 1
					one.steps[z][k] = columns[c].onward(z, &above)
				}
			}
			everyColumn(&one, nil, columns[c].share*p.levelRead(&l, i), h.cells, func(column []int, q float64) {
				for z, k := range column {
					q *= seen[z][k]
				}
				weights[i][c] += q
				bottoms[i][c][column[h.cells-1]] += q
				total += q
			})
		}
	}
	const tol = 1e-12
	for i := range weights {
		for c := range columns {
			if w := weights[i][c] / total; math.Abs(w-got.column[i][c]) > tol {
				t.Errorf("level %d, chain %d: weight %.12f, counted %.12f", i, c, got.column[i][c], w)
			}
			for k, q := range bottoms[i][c] {
				if math.Abs(q/weights[i][c]-got.bottom[i][c][k]) > tol {
					t.Errorf("level %d, chain %d, class %d: odds differ", i, c, k)
				}
			}
		}
	}
}

// What is seen moves the answer the right way.
func TestWhatIsSeenTells(t *testing.T) {
	p := small()
	ask := func(change func(l *Log)) Answer {
		l := logTo(3, topsoil, clay, clay)
		change(&l)
		a, err := p.Answer(l)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	plain := ask(func(*Log) {})
	deep := ask(func(l *Log) { l.LevelM = geo.Some(1.9) })
	if deep.Water.RestM[1] <= plain.Water.RestM[0] {
		t.Errorf("water read at 1.9 m rests at %v, before at %v", deep.Water.RestM, plain.Water.RestM)
	}
	wetSand := ask(func(l *Log) { l.Layers[2].Class = sand + 1; l.StrikeM = geo.Some(1.1) })
	drySand := ask(func(l *Log) { l.Layers[2].Class = sand + 1 })
	if !wetSand.Water.Met || plain.Water.Met || plain.Water.Within[0] == 0 {
		t.Errorf("wet sand: %+v; clay: %+v", wetSand.Water, plain.Water)
	}
	if drySand.Water.RestM[1] < plain.Water.RestM[1] {
		t.Errorf("dry sand leaves the water at %v, clay at %v", drySand.Water.RestM, plain.Water.RestM)
	}
	slow := ask(func(l *Log) { l.Layers[2].MinutesPerM = geo.Some(400.0) })
	h := logTo(3, topsoil, clay, clay)
	cut, columns := h.cut(), p.columns()
	odds := func(minutes float64) float64 {
		h.Layers[2].MinutesPerM = geo.Some(minutes)
		cut = h.cut()
		b := p.read(&h, &cut, columns)
		sum := 0.0
		for i := range b.level {
			for c := range columns {
				sum += b.column[i][c] * (b.bottom[i][c][weathered] + b.bottom[i][c][hardpan])
			}
		}
		return sum
	}
	if odds(400) <= odds(40) || slow.DepthM != 1.5 {
		t.Errorf("400 minutes a metre make hard ground %.4f likely, 40 minutes %.4f", odds(400), odds(40))
	}
	if odds := ask(func(l *Log) { l.Refused = true }).Odds[0]; odds[clay] >= plain.Odds[0][clay] || odds[rock] <= plain.Odds[0][rock] {
		t.Errorf("below refused ground: %v, else %v", odds, plain.Odds[0])
	}
	refused := ask(func(l *Log) { l.Refused = true })
	if refused.Advice.Code == GoOn || refused.Methods[0].Gain != 0 {
		t.Errorf("a method that does not get on: %+v", refused.Advice)
	}
}

// Odds add up to 1, chances and gains are in order: more metres never bring less, and the
// best time to stop is worth no less than any fixed one.
func TestAnswerLaws(t *testing.T) {
	p := small()
	for _, l := range []Log{logTo(0), logTo(1, topsoil), logTo(4, clay, clay, weathered, weathered), logTo(8, clay)} {
		a, err := p.Answer(l)
		if err != nil {
			t.Fatal(err)
		}
		for z, odds := range a.Odds {
			sum := 0.0
			for _, q := range odds {
				sum += q
			}
			if math.Abs(sum-1) > 1e-12 {
				t.Errorf("%g m: odds of cell %d add up to %v", l.DepthM, z, sum)
			}
		}
		for _, m := range a.Methods {
			for i, more := range m.More {
				if i > 0 && (more.Chance < m.More[i-1].Chance || more.Cost < m.More[i-1].Cost) {
					t.Errorf("%g m, %s: more metres bring less: %+v", l.DepthM, m.Method, m.More)
				}
				if more.Gain > m.Gain+1e-9 || more.Chance > m.Chance+1e-12 {
					t.Errorf("%g m, %s: %+v is better than the best, %v", l.DepthM, m.Method, more, m.Gain)
				}
			}
		}
	}
}

// The recursion finds the best of all ways to stop.
func TestStoppingIsBest(t *testing.T) {
	p := small()
	m := &p.Methods[0]
	flows := make([]flow, 4)
	f := func(z, row int, alive, works, cost float64, on map[int]float64) {
		flows[z].alive[row], flows[z].works[row], flows[z].cost[row] = alive, works, cost
		for k, q := range on {
			flows[z].on[row][k] = q
		}
	}
	f(0, clay, 1, 0, 4, map[int]float64{clay: 0.5, classes + sand: 0.3})
	f(1, clay, 0.5, 0, 6, map[int]float64{clay: 0.4, classes + sand: 0.05})
	f(1, classes+sand, 0.3, 0.1, 1, map[int]float64{classes + sand: 0.15})
	f(2, clay, 0.4, 0, 9, map[int]float64{classes + sand: 0.1})
	f(2, classes+sand, 0.2, 0.18, 1, nil)
	f(3, classes+sand, 0.1, 0.09, 1, nil)
	rows := [][2]int{{0, clay}, {1, clay}, {1, classes + sand}, {2, clay}, {2, classes + sand}, {3, classes + sand}}
	best := math.Inf(-1)
	for policy := range 1 << len(rows) {
		var value func(z, row int) float64
		value = func(z, row int) float64 {
			for i, at := range rows {
				if at == [2]int{z, row} && policy>>i&1 == 1 {
					x, rest := &flows[z], flows[z].alive[row]-flows[z].works[row]
					v := x.works[row]*(p.Costs.Next-m.LineCost) - x.cost[row]
					for k, q := range x.on[row] {
						if q > 0 {
							v, rest = v+q*value(z+1, k), rest-q
						}
					}
					return (v - rest*p.Costs.Close) / x.alive[row]
				}
			}
			return -p.Costs.Close
		}
		best = max(best, value(0, clay))
	}
	if got := p.stopping(m, flows, 0); math.Abs(got.best-best) > 1e-12 {
		t.Errorf("stopping is worth %v, the best of all ways %v", got.best, best)
	}
}

func TestLogsThatCannotBe(t *testing.T) {
	p := small()
	for name, change := range map[string]func(l *Log){
		"schema": func(l *Log) { l.Schema = "other" }, "method": func(l *Log) { l.Method = "spoon" },
		"month": func(l *Log) { l.Month = 13 }, "depth": func(l *Log) { l.DepthM = 99 },
		"nan": func(l *Log) { l.DepthM = math.NaN() }, "strike": func(l *Log) { l.StrikeM = geo.Some(7.0) },
		"order": func(l *Log) { l.Layers[1].TopM = 0 }, "class": func(l *Log) { l.Layers[0].Class = 99 },
		"minutes": func(l *Log) { l.Layers[0].MinutesPerM = geo.Some(-1.0) },
	} {
		l := logTo(2, topsoil, clay)
		change(&l)
		if _, err := p.Answer(l); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	other := *p
	other.Schema = "waterstrike.holepack.9"
	if _, err := other.Answer(logTo(0)); geo.KindOf(err) != geo.Invalid {
		t.Errorf("a pack of another form: %v", err)
	}
}
